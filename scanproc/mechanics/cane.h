#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>

#include "scanproc/core/moisture.h"
#include "scanproc/words/message.h"

namespace canewise {

/// Cane as an orthotropic sheet, fibre along x, stiffer towards the bark: at `depth` millimetres under the bark all
/// moduli are multiplied by exp(-gradient_per_mm (depth - kGradientDepth_mm)).
struct Cane {
  double e_l_mpa = 10000.0;  ///< Along the fibre.
  double e_t_mpa = 400.0;    ///< Across it.
  double g_lt_mpa = 1200.0;  ///< In-plane shear.
  double nu_lt = 0.22;       ///< Contraction across for a load along.
  double density_kg_per_m3 = 480.0;
  double gradient_per_mm = 0.10;
};
/// Where the gradient's factor is 1.
inline constexpr double kGradientDepth_mm = 2.5;

/// Plane stress stiffness, 3 x 3, MPa, for (xx, yy, engineering xy): Q11 = E_L/m, Q12 = nu_LT E_T/m, Q22 = E_T/m, Q66 =
/// G_LT with m = 1 - nu_LT^2 E_T/E_L. Bending stiffness is Q h^3/12. Source: [Reddy2004], eq. (2.4.4).
[[nodiscard]] Eigen::Matrix3d plane_stress_stiffness(const Cane& cane);

/// What is not known of a reed's cane. Independent of each other; relative standard deviations but for the gradient.
/// `common` counts in newtons per millimetre and in hertz; between reeds of one player's kind only `between_reeds`
/// does.
struct CaneSpread {
  double e_l_rel = 0.35, e_t_rel = 0.40, g_lt_rel = 0.30, density_rel = 0.15;
  double gradient_per_mm = 0.08;
  double left_right_rel = 0.05;     ///< Moduli of the right half over those of the left: the fibres lie unevenly.
  double between_reeds_rel = 0.10;  ///< All moduli together, from one reed to the next of the same kind.
};

struct CaneState {
  Cane cane;
  CaneSpread spread;
  Message source;           ///< For people.
  double left_right = 0.0;  ///< Moduli of the right half over those of the left, less 1.
  /// Of the parts in the order of kCaneParts, as in `spread`, where a bend test found them.
  std::optional<Eigen::Matrix<double, 6, 6>> measured;
};

/// Moduli dry, wet, or not known which. Dry: the middle of what models of clarinet reeds use, as wide as they differ
/// ([Facchinetti2003], [Taillard2014], [Avanzini2004], [Weidenfeller2018]). Wet: a strong fall, whose size could not be
/// read ([Ukshini2020]), is assumed. The gradient's sign is common practice, its size an assumption.
[[nodiscard]] CaneState cane_in(MoistureState state);

/// The parts of the cane that figures depend on, for sensitivities and spread.
enum class CanePart { e_l, e_t, g_lt, density, gradient, left_right };
inline constexpr std::array kCaneParts{CanePart::e_l,     CanePart::e_t,      CanePart::g_lt,
                                       CanePart::density, CanePart::gradient, CanePart::left_right};
/// Standard deviation of one part; relative but for the gradient.
[[nodiscard]] double spread_of(const CaneSpread& spread, CanePart part);
/// Of the parts in the order of kCaneParts: as it was measured, or the spread's squares.
[[nodiscard]] Eigen::Matrix<double, 6, 6> covariance_of(const CaneState& cane);

}  // namespace canewise
