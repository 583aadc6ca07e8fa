#pragma once

#include <string>

#include "scanproc/report/reed_page.h"

namespace canewise {

/// How the reed bends, as a part of its page.
[[nodiscard]] std::string bending_section(const Result& result, const PagePictures& pictures, const PageHome& home,
                                          const Speech& speech);

}  // namespace canewise
