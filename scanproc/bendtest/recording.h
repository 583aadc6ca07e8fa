#pragma once

#include <Eigen/Core>
#include <filesystem>

namespace canewise {

/// A recording of taps, one channel, -1 to 1.
struct Recording {
  double rate_hz = 0.0;
  Eigen::VectorXd samples;
};

/// What libsndfile reads: WAV, AIFF, FLAC, Ogg and others; several channels are averaged. Throws InputError for what is
/// none, is longer than two minutes, or has fewer than 16,000 samples a second.
[[nodiscard]] Recording read_recording(const std::filesystem::path& path);

}  // namespace canewise
