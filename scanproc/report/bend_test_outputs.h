#pragma once

#include <string>
#include <vector>

#include "scanproc/bendtest/bend_test.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// deflection.png: for every weight how far each place went down, as measured, as computed, and what is left.
[[nodiscard]] std::string deflection_png(const BendTest& test, const Outline& outline, const Speech& speech);

/// bend-test.html: what was learned, the picture, weights and cane as tables; in one file it opens offline.
[[nodiscard]] std::string bend_test_page(const BendTest& test, const std::string& deflection_png, const Speech& speech);

/// The same for a terminal.
[[nodiscard]] std::string bend_test_screen(const BendTest& test, const std::string& out_folder, const Speech& speech);

/// deflection.png, bend-test.html and bend-test.json.
[[nodiscard]] std::vector<OutputFile> bend_test_files(const BendTest& test, const Outline& outline,
                                                      const Speech& speech);
/// What a folder of a bend test is known by, and its files.
[[nodiscard]] OwnFolder own_bend_test_folder();

/// One sheet of A4: how to build the block, hang the weight and scan, with a ruler of 50 mm and the cautions.
[[nodiscard]] std::string bend_test_sheet_pdf(const Speech& speech);

}  // namespace canewise
