#include "tests/fuzz/fuzz_targets.h"

#include <sys/mman.h>
#include <unistd.h>

#include <array>
#include <vector>

#include "fixtures/write_surface.h"
#include "scanproc/assess/target_file.h"
#include "scanproc/clouds/mesh.h"
#include "scanproc/clouds/obj.h"
#include "scanproc/clouds/pcd.h"
#include "scanproc/clouds/ply.h"
#include "scanproc/clouds/stl.h"
#include "scanproc/clouds/text_points.h"
#include "scanproc/core/error.h"
#include "scanproc/core/md5.h"
#include "scanproc/heights/sdf.h"
#include "scanproc/heights/tiff_map.h"
#include "scanproc/heights/x3p.h"
#include "scanproc/images/grey_image.h"
#include "scanproc/images/line_centres.h"
#include "scanproc/images/picture.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/rig/depth_camera.h"
#include "scanproc/rig/rig.h"

namespace {

using namespace canewise;

/// A file in memory, since the readers want one.
class MemoryFile {
 public:
  explicit MemoryFile(const std::string& bytes) : descriptor_(::memfd_create("scan", MFD_CLOEXEC)) {
    if (::write(descriptor_, bytes.data(), bytes.size()) != static_cast<ssize_t>(bytes.size())) ::_exit(1);
  }
  ~MemoryFile() { ::close(descriptor_); }
  MemoryFile(const MemoryFile&) = delete;
  MemoryFile& operator=(const MemoryFile&) = delete;
  [[nodiscard]] std::string path() const { return "/proc/self/fd/" + std::to_string(descriptor_); }

 private:
  int descriptor_;
};

template <typename Read>
void with_file(const std::string& bytes, const Read& read) {
  const MemoryFile memory(bytes);
  try {
    read(memory.path());
  } catch (const Error&) {  // Refused in words: as it should be.
  }
}

/// Behind the check sums hardly any change of an archive is ever seen. So one kind of food is a description, in which
/// '*' stands for the right sum, with its data behind it; the archive is made here.
std::string archive_from(const std::string& food) {
  const std::size_t end = food.rfind('>');
  if (end == std::string::npos) return food;
  std::string xml = food.substr(1, end);
  const std::string data = food.substr(end + 1);
  const std::size_t star = xml.find('*');
  if (star != std::string::npos) xml.replace(star, 1, md5(data));
  return fixtures::x3p_from(xml, {{"d", data}});
}

constexpr std::array kTargets{
    FuzzTarget{"ply",
               [](const std::string& b) { with_file(b, [](const auto& p) { (void)read_ply(ScanFile(p), 1.0); }); }},
    FuzzTarget{"picture",
               [](const std::string& b) {
                 with_file(b, [](const auto& p) {
                   const GreyPicture picture = read_picture(ScanFile(p));
                   constexpr std::size_t quick = 1U << 20U;
                   if (picture.values.size() > quick) return;
                   for (const bool crosses : {true, false}) (void)find_line(picture, {1.5, crosses, 0.0});
                 });
               }},
    FuzzTarget{"pcd",
               [](const std::string& b) { with_file(b, [](const auto& p) { (void)read_pcd(ScanFile(p), 1.0); }); }},
    FuzzTarget{
        "text",
        [](const std::string& b) { with_file(b, [](const auto& p) { (void)read_text_points(ScanFile(p), 1.0); }); }},
    FuzzTarget{"stl",
               [](const std::string& b) {
                 with_file(b, [](const auto& p) { (void)cloud_from(read_stl(ScanFile(p)), 1.0, 1000); });
               }},
    FuzzTarget{"obj",
               [](const std::string& b) {
                 with_file(b, [](const auto& p) { (void)cloud_from(read_obj(ScanFile(p)), 1.0, 1000); });
               }},
    FuzzTarget{
        "sdf",
        [](const std::string& b) { with_file(b, [](const auto& p) { (void)cloud_from(read_sdf(ScanFile(p))); }); }},
    FuzzTarget{"x3p",
               [](const std::string& b) {
                 if (b.empty()) return;
                 const std::string archive = b[0] == 'd' ? archive_from(b) : b.substr(1);
                 with_file(archive, [](const auto& p) { (void)read_x3p(ScanFile(p)); });
               }},
    FuzzTarget{"tiff_map",
               [](const std::string& b) { with_file(b, [](const auto& p) { (void)read_tiff_map(ScanFile(p), {}); }); }},
    FuzzTarget{
        "depth_image",
        [](const std::string& b) { with_file(b, [](const auto& p) { (void)read_depth_image(ScanFile(p), 4, 3); }); }},
    FuzzTarget{"depth_camera",
               [](const std::string& b) {
                 with_file(b, [](const auto& p) {
                   const DepthCamera camera = read_depth_camera(p);
                   (void)direction_of(camera, 0.0, 0.0);
                 });
               }},
    FuzzTarget{"rig", [](const std::string& b) { with_file(b, [](const auto& p) { (void)read_rig(p); }); }},
    FuzzTarget{"player", [](const std::string& b) { with_file(b, [](const auto& p) { (void)read_player(p); }); }},
    FuzzTarget{"target",
               [](const std::string& b) {
                 try {
                   (void)target_from_json(b, "target");
                 } catch (const Error&) {
                 }
               }},
    FuzzTarget{"result",
               [](const std::string& b) {
                 try {
                   (void)result_from_json(b, "result");
                 } catch (const Error&) {
                 }
               }},
};

}  // namespace

std::span<const FuzzTarget> fuzz_targets() {
  static const std::vector<FuzzTarget> all = [] {
    std::vector<FuzzTarget> targets(kTargets.begin(), kTargets.end());
    const auto of_server = server_fuzz_targets();
    targets.insert(targets.end(), of_server.begin(), of_server.end());
    return targets;
  }();
  return all;
}
