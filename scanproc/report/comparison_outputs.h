#pragma once

#include <string>
#include <vector>

#include "scanproc/compare/comparison.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/report/page_frame.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// removal.png: what came off, with the places that were planned.
[[nodiscard]] std::string removal_png(const Comparison& comparison, const Result& before, const Speech& speech);
/// compare.html: the sentence, the picture, planned against done, what is left; in one file it opens offline.
[[nodiscard]] std::string comparison_page(const Comparison& comparison, const Result& before, const Result& after,
                                          const std::string& removal_png, const PageHome& home, const Speech& speech);
/// The same for a terminal.
[[nodiscard]] std::string comparison_screen(const Comparison& comparison, const Result& after,
                                            const std::string& out_folder, const Speech& speech);
/// removal.png, compare.html and compare.json.
[[nodiscard]] std::vector<OutputFile> comparison_files(const Comparison& comparison, const Result& before,
                                                       const Result& after, const std::string& before_name,
                                                       const std::string& after_name, const Speech& speech);

/// What a folder of a comparison is known by, and its files.
[[nodiscard]] OwnFolder own_comparison_folder();

}  // namespace canewise
