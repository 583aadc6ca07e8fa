#pragma once

#include <string_view>
#include <vector>

#include "scanproc/ledger/records.h"
#include "scanproc/pipeline/result.h"

namespace canewise {

/// The numbers by which reeds of a box are told apart and matched with how they play, with the standard uncertainty of
/// each from its own scan. What the scan does not show is left out.
///
/// 'stiffness' (N/mm under the lip), 'imbalance tip' and 'imbalance lip' (right over left as a share), 'tip', 'heart'
/// and 'rails' (um), 'vamp' (mm), 'worst difference' (largest left-right difference of a zone over its tolerance).
[[nodiscard]] std::vector<FigureValue> figures_of(const Result& result);
/// One of those names for people: 'stiffness under the lip'. A part of a sentence.
[[nodiscard]] Message title_of_figure(std::string_view name);

}  // namespace canewise
