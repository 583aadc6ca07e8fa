#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "viewer/http/http_message.h"
#include "viewer/server/jobs.h"
#include "viewer/server/uploads.h"

namespace canewise {

struct UploadRules {
  std::filesystem::path player;  ///< Player file, if it is there.
  std::filesystem::path ledger;  ///< Where a scan with a reed's label is filed; begun if it is not there.
  std::uintmax_t largest_bytes = 0;
};

/// Why a scan is not taken, for whom it concerns.
struct UploadRefusal {
  int status;
  Message message;
};

/// Where a scan goes, or why not, by the request's head. The sink's answer has the job's id, or why there is none.
[[nodiscard]] std::variant<UploadRefusal, std::unique_ptr<BodySink>> take_scan(const HttpRequest& request,
                                                                               const UploadRules& rules,
                                                                               Uploads& uploads, Jobs& jobs);

}  // namespace canewise
