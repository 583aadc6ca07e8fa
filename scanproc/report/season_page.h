#pragma once

#include <string>

#include "scanproc/ledger/ledger.h"
#include "scanproc/report/page_frame.h"

namespace canewise {

/// What the ledger knows of a reed, for its own page: what it is, how it played. The page's script adds what notes a
/// trial; `home.token` lets it. Empty if the ledger has no such reed.
[[nodiscard]] std::string ledger_section(const Ledger& ledger, const std::string& label, const PageHome& home,
                                         const Speech& speech);

/// The day at a glance: what to play, break in, scan or retire, then every box with what its tried reeds say.
[[nodiscard]] std::string season_page(const Ledger& ledger, const std::string& day, const PageHome& home,
                                      const Speech& speech);

}  // namespace canewise
