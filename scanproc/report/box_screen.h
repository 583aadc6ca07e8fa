#pragma once

#include <string>

#include "scanproc/advise/box_view.h"
#include "scanproc/advise/learning.h"
#include "scanproc/advise/signs.h"
#include "scanproc/words/speech.h"

namespace canewise {

/// What a box is and what its tried reeds say of the others.
[[nodiscard]] Messages box_sentences(const BoxView& box);
/// Which reeds lie on which shelf.
[[nodiscard]] Messages shelf_sentences(const BoxView& box);
/// Which reeds differ, and in what.
[[nodiscard]] Messages spread_sentences(const BoxView& box);

/// A reed's line: label, shelf, rank of likeness, stiffness, imbalance, tip, marks. Nothing is an empty message.
[[nodiscard]] Messages box_cells(const ReedOfBox& reed);

/// 'canewise box show': sentences, then a line for each reed.
[[nodiscard]] std::string box_screen(const BoxView& box, const Speech& speech);
/// After a trial: what its signs say, and what to do.
[[nodiscard]] Messages signs_sentences(const PlayingAdvice& advice);
[[nodiscard]] std::string signs_screen(const PlayingAdvice& advice, const Speech& speech);
/// What a player's marks go with.
[[nodiscard]] Messages learned_sentences(const Learned& learned);

}  // namespace canewise
