#pragma once

#include <string>

namespace canewise {

/// The cautions as a box on a page; it stands wherever the page tells a person to scrape.
[[nodiscard]] std::string cautions_box();

}  // namespace canewise
