#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <utility>
#include <vector>

#include "scanproc/words/message.h"
#include "scanproc/words/speech.h"
#include "viewer/http/http_message.h"

namespace canewise {

/// No script, style or picture but this server's own, and nothing of it in another's page.
[[nodiscard]] const std::vector<std::pair<std::string, std::string>>& policies();

[[nodiscard]] HttpAnswer json_answer(int status, const nlohmann::json& body);
[[nodiscard]] HttpAnswer page_answer(std::string page, int status = 200);
/// A program hears why as JSON, a person who followed a link as a page.
[[nodiscard]] HttpAnswer refusal_answer(const HttpRequest& request, int status, const Message& message,
                                        const Speech& speech);

}  // namespace canewise
