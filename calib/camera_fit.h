#pragma once

#include <algorithm>
#include <vector>

#include "calib/camera_calibration.h"

namespace canewise {

/// Photographs that a camera is fitted to; not owned.
using Views = std::vector<const BoardView*>;

/// Terms of the lens that are held at nought, by their places among a camera's parameters.
struct HeldTerms {
  std::vector<Eigen::Index> places;
  std::vector<double> assumed;  ///< Standard uncertainty of each.

  [[nodiscard]] bool holds(Eigen::Index k) const { return std::find(places.begin(), places.end(), k) != places.end(); }
};

struct CameraFit {
  Camera camera;
  std::vector<Eigen::Isometry3d> poses;
  std::vector<double> rms_px;  ///< By view.
  double squares = 0.0;
  std::size_t corners = 0;
};
/// Throws InputError for boards that all lie alike.
[[nodiscard]] CameraFit fit_camera(const Views& views, const HeldTerms& held);

/// Variance of a corner's coordinate, from the residuals.
[[nodiscard]] double corner_variance(const CameraFit& fit, std::size_t views, const HeldTerms& held);

/// Covariance of the camera's parameters: inverse of the camera's block of the normal matrix after the poses are
/// eliminated. What is left out moves the others: c = -N_ff^-1 N_fo o for terms o that are not nought, so that
/// C = [N_ff^-1 + B S B', B S; S B', S] with B = -N_ff^-1 N_fo.
[[nodiscard]] CameraCovariance covariance_of(const CameraFit& fit, const Views& views, const HeldTerms& held);

/// A fit of those terms alone that the photographs determine.
struct DeterminedFit {
  CameraFit fit;
  HeldTerms held;
  std::vector<LeftOutTerm> left_out;
};
/// From the fit of all terms: leaves out one after the other, the highest power first, as long as the photographs do
/// not determine it.
[[nodiscard]] DeterminedFit determined_fit(const Views& views, CameraFit of_all_terms);

/// Root mean square error of views that the camera was not fitted to.
[[nodiscard]] double cross_validated_px(const Views& views, const HeldTerms& held, const Progress& progress);

}  // namespace canewise
