#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "scanproc/words/message.h"

namespace canewise {

/// What a measuring child says on one line: a stage, or why it refuses. Both empty if the line names one of them but
/// holds something else.
struct ChildTold {
  Message stage;
  double fraction = 0.0;  ///< 0 to 1.
  Message refused;
};
/// Nothing for any other line. Never throws for what a line holds.
[[nodiscard]] std::optional<ChildTold> told_on(const std::string& line);

/// A child's message for who sent the scan `file`: the folder where it lies for a while means nothing to them, and of
/// which file it speaks they know.
[[nodiscard]] Message for_sender(Message message, const std::filesystem::path& file);
/// Words that are no message, as one.
[[nodiscard]] Message for_sender(std::string words, const std::filesystem::path& file);
/// Without these folders' paths: where they lie on this computer is nobody else's business.
[[nodiscard]] Message without_places(Message message, const std::vector<std::filesystem::path>& places);

}  // namespace canewise
