#include "viewer/server/scan_upload.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <nlohmann/json.hpp>
#include <optional>
#include <system_error>

#include "scanproc/core/error.h"
#include "scanproc/core/utc.h"
#include "scanproc/ledger/dates.h"
#include "scanproc/ledger/tables.h"
#include "scanproc/words/message_json.h"
#include "viewer/http/status.h"
#include "viewer/server/answers.h"
#include "viewer/server/results.h"

namespace canewise {
namespace {

Message of_file(const std::string& name, Message what) {
  return {"in_file", {{"file", text(name)}, {"what", part(std::move(what))}}};
}

HttpAnswer no(int status, const Message& message) { return json_answer(status, {{"message", message}}); }

/// What was said of a scan beside its bytes.
struct ScanWishes {
  std::vector<std::string> options;
  std::string result_name;  ///< Empty: after the scan's file.
};

/// Writes a scan into its slot and hands it over to be measured once it is whole.
class ScanSink : public BodySink {
 public:
  ScanSink(Uploads::Slot slot, std::string name, ScanWishes wishes, Jobs& jobs)
      : slot_(std::move(slot)),
        name_(std::move(name)),
        wishes_(std::move(wishes)),
        jobs_(jobs),
        file_(slot_.folder() / name_, std::ios::binary) {}

  bool take(std::string_view bytes) override {
    file_.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    return static_cast<bool>(file_);
  }

  HttpAnswer end(BodyEnd how) override {
    file_.close();
    if (!file_) return no(kNoRoom, of_file(name_, {"serve.scan_not_written"}));
    if (how != BodyEnd::whole) return no(kBadRequest, of_file(name_, {"serve.scan_not_whole"}));
    const auto id = jobs_.start({slot_.folder() / name_, std::move(wishes_.options), std::move(wishes_.result_name)});
    if (!id) return no(kUnavailable, {"serve.too_many_scans"});
    slot_.keep();
    return json_answer(202, {{"id", *id}});
  }

 private:
  Uploads::Slot slot_;
  std::string name_;
  ScanWishes wishes_;
  Jobs& jobs_;
  std::ofstream file_;
};

/// Names of media types know no case.
bool is_form(std::string_view type) {
  constexpr std::string_view form = "multipart/";
  const auto is_same = [](char a, char b) { return (a >= 'A' && a <= 'Z' ? a - 'A' + 'a' : a) == b; };
  return type.size() >= form.size() &&
         std::equal(form.begin(), form.end(), type.begin(), [&](char b, char a) { return is_same(a, b); });
}

struct Choice {
  const char *key, *option;
  std::array<std::string_view, 4> values;
};
constexpr std::array kChoices{Choice{"state", "--state", {"unknown", "dry", "wet", ""}},
                              Choice{"rolling_test", "--rolling-test", {"not-done", "left", "right", "even"}}};

/// Adds what was said of this scan to a measurement's options; the key of a value that is none, or nothing.
std::optional<std::string> add_choices(const HttpRequest& request, std::vector<std::string>& options) {
  for (const Choice& choice : kChoices) {
    if (!request.has_parameter(choice.key)) continue;
    const std::string_view value = request.parameter(choice.key);
    if (value.empty()) continue;
    if (std::find(choice.values.begin(), choice.values.end(), value) == choice.values.end()) return choice.key;
    options.insert(options.end(), {choice.option, std::string(value)});
  }
  return std::nullopt;
}

/// Whose reed it is: then the child files it in the ledger, under a name that says so. False for what is no label.
bool add_reed(const HttpRequest& request, const std::filesystem::path& ledger, ScanWishes& wishes) {
  const std::string label(request.parameter("reed"));
  if (label.empty()) return true;
  try {
    check_row(table_named("reed"), {{"label", label}}, false);
  } catch (const UsageError&) {
    return false;
  }
  wishes.options.insert(wishes.options.end(), {"--reed", label, "--ledger", ledger.string()});
  const std::string name = safe_file_name(label);
  if (!name.empty()) wishes.result_name = name + "-" + day_of(now_utc());
  return true;
}

}  // namespace

std::variant<UploadRefusal, std::unique_ptr<BodySink>> take_scan(const HttpRequest& request, const UploadRules& rules,
                                                                 Uploads& uploads, Jobs& jobs) {
  if (is_form(request.header("content-type"))) return UploadRefusal{kUnsupported, {"serve.not_a_form"}};
  const std::string name = safe_file_name(request.parameter("name"));
  if (name.empty()) return UploadRefusal{kBadRequest, {"serve.name_needed"}};
  ScanWishes wishes;
  if (const auto key = add_choices(request, wishes.options))
    return UploadRefusal{kBadRequest, {"serve.no_such_value", {{"key", text(*key)}}}};
  if (!add_reed(request, rules.ledger, wishes))
    return UploadRefusal{kBadRequest, {"serve.no_such_value", {{"key", text("reed")}}}};
  // As it is now: it may have been learned while this server ran.
  std::error_code not_there;
  if (std::filesystem::is_regular_file(rules.player, not_there))
    wishes.options.insert(wishes.options.end(), {"--player", rules.player.string()});
  const std::uint64_t length = request.content_length.value_or(0);
  if (length == 0) return UploadRefusal{kBadRequest, of_file(name, {"serve.scan_empty"})};
  if (length > rules.largest_bytes) {
    const auto megabytes = static_cast<double>(rules.largest_bytes >> 20U);
    return UploadRefusal{kTooLarge, of_file(name, {"serve.too_large", {{"megabytes", number(megabytes)}}})};
  }
  try {
    auto slot = uploads.begin(length);
    if (!slot) return UploadRefusal{kUnavailable, {"serve.too_many_scans"}};
    return std::make_unique<ScanSink>(std::move(*slot), name, std::move(wishes), jobs);
  } catch (const Error&) {
    // Its words name a place on this computer, which is nobody else's business.
    return UploadRefusal{kNoRoom, of_file(name, {"serve.scan_not_written"})};
  }
}

}  // namespace canewise
