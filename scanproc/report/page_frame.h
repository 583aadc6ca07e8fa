#pragma once

#include <string>
#include <string_view>

#include "scanproc/words/speech.h"

namespace canewise {

/// Where a page lives: one file with everything in it, or served with its parts beside it.
struct PageHome {
  bool in_one_file = true;
  bool pictures_inside = in_one_file;
  std::string token = {};  ///< What lets the page write back to its server; empty where it cannot.
};

/// Text as it may stand in HTML.
[[nodiscard]] std::string escaped(std::string_view text);
[[nodiscard]] std::string base64(std::string_view bytes);

/// A picture of a page; what it views must outlive it.
struct PagePicture {
  std::string_view file;   ///< Its name beside the page.
  std::string_view bytes;  ///< PNG.
  Message description;     ///< For those who do not see it.
};

/// In the page or as a file beside it.
[[nodiscard]] std::string image(const PageHome& home, const PagePicture& picture, const Speech& speech);

/// The way back to the list of reeds, where there is one.
[[nodiscard]] std::string way_home(const PageHome& home, const Speech& speech);

/// Begins a table that may be wider than the screen: it scrolls by itself, by keyboard too. `name` is for those who do
/// not see it.
[[nodiscard]] std::string table_begin(const Message& name, const Speech& speech);
/// A row of cells ('td') or headings ('th') as phrases; an empty message is an empty cell.
[[nodiscard]] std::string table_row(std::string_view cell, const Messages& phrases, const Speech& speech);
inline constexpr std::string_view kTableEnd = "</table></div>";

/// What stands in a page; what it views must outlive it.
struct PageContent {
  Message title;
  std::string_view body;
  std::string_view data = {};  ///< What page_data gave; empty for a page that draws nothing.
};

/// The whole document around the content's body.
[[nodiscard]] std::string framed_page(const PageHome& home, const PageContent& content, const Speech& speech);

}  // namespace canewise
