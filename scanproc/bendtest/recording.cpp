#include "scanproc/bendtest/recording.h"

#include <sndfile.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include "scanproc/core/error.h"

namespace canewise {

Recording read_recording(const std::filesystem::path& path) {
  const auto refuse = [&](Message what) -> InputError {
    return InputError({"in_file", {{"file", text(path.string())}, {"what", part(std::move(what))}}});
  };
  SF_INFO info{};
  const std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file(sf_open(path.c_str(), SFM_READ, &info), &sf_close);
  if (!file) throw refuse({"tap.no_recording"});
  constexpr int slowest_hz = 16000, fastest_hz = 400000, most_channels = 16;
  constexpr double longest_s = 120.0;
  if (info.samplerate < slowest_hz || info.samplerate > fastest_hz) throw refuse({"tap.rate"});
  if (info.channels < 1 || info.channels > most_channels || info.frames < 1) throw refuse({"tap.no_recording"});
  if (static_cast<double>(info.frames) > longest_s * info.samplerate) throw refuse({"tap.too_long"});
  Recording recording;
  recording.rate_hz = info.samplerate;
  // In portions: what the header promises is not believed.
  constexpr sf_count_t portion = 1 << 14;
  std::vector<double> samples, some(static_cast<std::size_t>(portion * info.channels));
  for (sf_count_t got = 0; (got = sf_readf_double(file.get(), some.data(), portion)) > 0;) {
    for (sf_count_t k = 0; k < got; ++k) {
      double sum = 0.0;
      for (int c = 0; c < info.channels; ++c) sum += some[static_cast<std::size_t>(k * info.channels + c)];
      samples.push_back(sum / info.channels);
    }
    if (static_cast<double>(samples.size()) > longest_s * info.samplerate) throw refuse({"tap.too_long"});
  }
  recording.samples = Eigen::Map<const Eigen::VectorXd>(samples.data(), static_cast<Eigen::Index>(samples.size()));
  if (!recording.samples.allFinite()) throw refuse({"tap.no_recording"});
  return recording;
}

}  // namespace canewise
