#pragma once

#include <cstdint>
#include <iosfwd>
#include <string>
#include <utility>
#include <vector>

#include "scanproc/words/speech.h"

namespace canewise {

/// What a page is made of. Results come as the bytes of their files, as the server found them: who makes the page opens
/// no file but the player's, the ledger, and for a box the results that the ledger names beside it.
struct PageWork {
  /// `note` changes the ledger and says what came of it.
  enum class What : std::uint8_t { reed, comparison, hand, season, box, note } what = What::reed;
  struct ResultFile {
    std::string name, bytes;
  };
  std::vector<ResultFile> results;  ///< One reed; or before and after.
  std::string template_pdf;         ///< Of a reed.
  std::vector<double> strokes_done;
  std::string player;  ///< Player file: may be there. A hand is kept in it.
  std::string token;   ///< What lets a page write back.
  std::string ledger;  ///< Its file; may be there.
  std::string day;     ///< Today, of a season.
  std::string box;
  /// Of a note: 'trial' adds one, 'reed' changes the one that the column 'label' names.
  std::string table;
  std::vector<std::pair<std::string, std::string>> columns;  ///< As typed.
};

/// As one text: a line of JSON, then the bytes, which are not kept twice.
[[nodiscard]] std::string text_of(PageWork work);
/// Throws std::exception for what text_of did not write.
[[nodiscard]] PageWork page_work_from(std::istream& text);

/// HTML, or for a hand and a note JSON that says what was kept. Throws Error.
[[nodiscard]] std::string page_of(const PageWork& work, const Speech& speech);

}  // namespace canewise
