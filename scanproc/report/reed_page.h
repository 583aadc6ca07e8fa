#pragma once

#include <string>

#include "scanproc/pipeline/result.h"
#include "scanproc/report/page_frame.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// The files of a measurement that its page shows. Served, they lie beside the page and only the template is asked for.
struct PagePictures {
  std::string map_png, balance_png, bending_png, modes_png;
  std::string table_png;     ///< Two-sided scans only.
  std::string template_pdf;  ///< To be saved from the page.
};

/// What a page shows beside the result.
struct BesideResult {
  std::string ledger_section = {};  ///< HTML; see season_page.h.
};

/// What the reed is, what is off, what to do, how sure, as words; the reed to look at; details that fold out. The words
/// stand without any script.
[[nodiscard]] std::string reed_page(const Result& result, const PagePictures& pictures, const PageHome& home,
                                    const Speech& speech, const BesideResult& beside = {});

}  // namespace canewise
