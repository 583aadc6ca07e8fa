#include "scanproc/bytes/zip_archive.h"

#include <zip.h>

#include <algorithm>
#include <stdexcept>

namespace canewise {

struct ZipArchive::State {
  const ScanFile& file;
  std::string bytes;
  zip_t* archive = nullptr;
};

namespace {

constexpr std::uint64_t kMostMembers = 1000;

/// Members as the central directory lists them; asked before the library makes room for each.
std::uint64_t directory_entries(std::string_view bytes) {
  constexpr std::string_view signature("PK\x01\x02", 4);
  std::uint64_t count = 0;
  for (std::size_t at = bytes.find(signature); at != std::string_view::npos && count <= kMostMembers;
       at = bytes.find(signature, at + signature.size())) {
    ++count;
  }
  return count;
}

/// Other methods take what memory their header says.
bool is_plainly_packed(zip_t* archive, const std::string& name) {
  zip_stat_t status;
  zip_stat_init(&status);
  return zip_stat(archive, name.c_str(), 0, &status) == 0 && (status.valid & ZIP_STAT_COMP_METHOD) != 0 &&
         (status.comp_method == ZIP_CM_STORE || status.comp_method == ZIP_CM_DEFLATE);
}

bool stays_inside(std::string_view name) {
  return !name.empty() && name.front() != '/' && name.find("..") == std::string_view::npos &&
         name.find('\\') == std::string_view::npos && name.find(':') == std::string_view::npos;
}

}  // namespace

ZipArchive::ZipArchive(const ScanFile& file) : state_(new State{file, file.all(), nullptr}) {
  if (directory_entries(state_->bytes) > kMostMembers) file.fail({"zip.many_members"});
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* source = zip_source_buffer_create(state_->bytes.data(), state_->bytes.size(), 0, &error);
  if (source != nullptr) {
    state_->archive = zip_open_from_source(source, ZIP_RDONLY, &error);
    if (state_->archive == nullptr) zip_source_free(source);
  }
  zip_error_fini(&error);
  if (state_->archive == nullptr) file.fail({"zip.damaged"});
}

ZipArchive::~ZipArchive() {
  if (state_->archive != nullptr) zip_discard(state_->archive);
}

std::vector<std::string> ZipArchive::folders_of(std::string_view base) const {
  std::vector<std::string> folders;
  const zip_int64_t members = zip_get_num_entries(state_->archive, 0);
  for (zip_int64_t i = 0; i < members; ++i) {
    const char* raw = zip_get_name(state_->archive, static_cast<zip_uint64_t>(i), 0);
    const std::string_view name = raw == nullptr ? "" : raw;
    if (!stays_inside(name) || !name.ends_with(base)) continue;
    const std::string_view folder = name.substr(0, name.size() - base.size());
    if (folder.empty() || folder.back() == '/') folders.emplace_back(folder);
  }
  const auto depth = [](const std::string& folder) { return std::count(folder.begin(), folder.end(), '/'); };
  std::stable_sort(folders.begin(), folders.end(), [&](const auto& a, const auto& b) { return depth(a) < depth(b); });
  return folders;
}

std::optional<std::uint64_t> ZipArchive::size_of_member(const std::string& name) const {
  if (!stays_inside(name)) return std::nullopt;
  zip_stat_t status;
  zip_stat_init(&status);
  if (zip_stat(state_->archive, name.c_str(), 0, &status) != 0 || (status.valid & ZIP_STAT_SIZE) == 0)
    return std::nullopt;
  return status.size;
}

std::string ZipArchive::read_member(const std::string& name, std::uint64_t limit) const {
  const auto size = size_of_member(name);
  const Argument shown_name = text(std::string_view(name).substr(0, 80));
  if (!size) state_->file.fail({"zip.no_member", {{"member", shown_name}}});
  if (*size > limit) state_->file.fail({"zip.too_large", {{"member", shown_name}}});
  if (!is_plainly_packed(state_->archive, name)) state_->file.fail({"zip.packing", {{"member", shown_name}}});
  zip_file_t* member = zip_fopen(state_->archive, name.c_str(), 0);
  if (member == nullptr) state_->file.fail({"zip.locked", {{"member", shown_name}}});
  std::string bytes;
  // In pieces, so that a stated size that is a lie costs no memory: what is reserved but never touched is not there.
  constexpr std::size_t piece = 1U << 20U;
  bytes.reserve(static_cast<std::size_t>(*size) + piece);
  bool good = true;
  while (bytes.size() <= *size) {
    const std::size_t before = bytes.size();
    bytes.resize(before + piece);
    const zip_int64_t got = zip_fread(member, bytes.data() + before, piece);
    bytes.resize(before + static_cast<std::size_t>(std::max<zip_int64_t>(0, got)));
    good = got >= 0;
    if (got <= 0) break;
  }
  const bool closed = zip_fclose(member) == 0;
  if (!good || !closed || bytes.size() != *size) {
    state_->file.fail({"zip.damaged_member", {{"member", shown_name}}});
  }
  return bytes;
}

std::string zip_bytes(const std::vector<std::pair<std::string, std::string>>& members) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* target = zip_source_buffer_create(nullptr, 0, 0, &error);
  if (target == nullptr) throw std::runtime_error("no memory for a zip archive");
  zip_source_keep(target);  // Read again after the archive is closed.
  zip_t* archive = zip_open_from_source(target, ZIP_TRUNCATE, &error);
  if (archive == nullptr) throw std::runtime_error("a zip archive could not be opened");
  for (const auto& [name, bytes] : members) {
    zip_source_t* source = zip_source_buffer(archive, bytes.data(), bytes.size(), 0);
    const zip_int64_t index = zip_file_add(archive, name.c_str(), source, ZIP_FL_ENC_UTF_8);
    if (index < 0) throw std::runtime_error("a zip member could not be added");
    // The same content gives the same bytes, whenever it is written.
    constexpr zip_uint16_t no_time = 0, first_day_of_1980 = 0x21;
    zip_file_set_dostime(archive, static_cast<zip_uint64_t>(index), no_time, first_day_of_1980, 0);
  }
  if (zip_close(archive) != 0) throw std::runtime_error("a zip archive could not be packed");
  zip_stat_t status;
  zip_stat_init(&status);
  zip_source_stat(target, &status);
  std::string packed(static_cast<std::size_t>(status.size), '\0');
  zip_source_open(target);
  const zip_int64_t got = zip_source_read(target, packed.data(), packed.size());
  zip_source_close(target);
  zip_source_free(target);
  if (got < 0 || static_cast<std::size_t>(got) != packed.size()) throw std::runtime_error("a zip archive was cut");
  return packed;
}

}  // namespace canewise
