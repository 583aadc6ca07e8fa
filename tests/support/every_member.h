#pragma once

#include <gtest/gtest.h>

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <concepts>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <type_traits>
#include <typeinfo>
#include <utility>
#include <vector>

#include "scanproc/pipeline/result.h"

// Compares two results member by member, every member: a name too few or too many below does not compile.
namespace canewise::test {

// NOLINTNEXTLINE(cppcoreguidelines-macro-usage)
#define CANEWISE_MEMBERS(Type, ...)        \
  inline auto members(const Type& whole) { \
    const auto& [__VA_ARGS__] = whole;     \
    return std::tie(__VA_ARGS__);          \
  }
CANEWISE_MEMBERS(ScanSource, a, b, c, d, e, f, g)
CANEWISE_MEMBERS(Registration, a, b, c, d)
CANEWISE_MEMBERS(TableForm, a, b, c, d, e, f)
CANEWISE_MEMBERS(Priors, a, b, c, d, e, f, g, h, i, j, k, l, m, n)
CANEWISE_MEMBERS(Pads, a, b)
CANEWISE_MEMBERS(Carrier, a, b, c)
CANEWISE_MEMBERS(Rig, a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r)
CANEWISE_MEMBERS(KnownReed, a, b, c, d, e, f, g)
CANEWISE_MEMBERS(Cane, a, b, c, d, e, f)
CANEWISE_MEMBERS(MeasuredCane, a, b, c, d, e)
CANEWISE_MEMBERS(FeelerReading, a, b, c)
CANEWISE_MEMBERS(Player, a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w)
CANEWISE_MEMBERS(SideLine, a, b, c, d)
CANEWISE_MEMBERS(Outline, a, b, c, d, e, f, g, h, i, j, k, l, m, n, o)
CANEWISE_MEMBERS(FrameUncertainty, a, b, c, d, e, f)
CANEWISE_MEMBERS(Grid, a, b, c)
CANEWISE_MEMBERS(LocalNoise, a, b, c, d, e, f, g, h)
CANEWISE_MEMBERS(CommonEffect, a, b, c, d)
CANEWISE_MEMBERS(ThicknessMap, a, b, c, d, e, f, g, h, i, j, k, l, m)
CANEWISE_MEMBERS(Measured, a, b)
CANEWISE_MEMBERS(Bark, a, b, c, d, e)
CANEWISE_MEMBERS(CutFeatures, a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p)
CANEWISE_MEMBERS(ZoneMap, a, b, c, d)
CANEWISE_MEMBERS(Zone, a, b, c)
CANEWISE_MEMBERS(ZoneMean, a, b, c, d, e, f, g)
CANEWISE_MEMBERS(ZoneThickness, a, b)
CANEWISE_MEMBERS(ZoneBalance, a, b, c, d, e, f, g, h, i, j, k, l, m)
CANEWISE_MEMBERS(Balance, a, b, c, d)
CANEWISE_MEMBERS(Fault, a, b, c, d, e, f, g, h, i, j, k, l)
CANEWISE_MEMBERS(Target, a, b, c, d, e, f, g, h, i, j, k, l)
CANEWISE_MEMBERS(ZoneDeviation, a, b, c, d, e)
CANEWISE_MEMBERS(TargetComparison, a, b, c, d, e, f)
CANEWISE_MEMBERS(Assessment, a, b, c, d, e, f)
CANEWISE_MEMBERS(ArealParameters, a, b, c, d, e, f, g)
CANEWISE_MEMBERS(Texture, a, b, c, d, e)
CANEWISE_MEMBERS(Contribution, a, b, c, d)
CANEWISE_MEMBERS(Combined, a, b, c, d)
CANEWISE_MEMBERS(BudgetTable, a, b, c)
CANEWISE_MEMBERS(SpreadValue, a, b, c)
CANEWISE_MEMBERS(ComplianceAt, a, b, c, d)
CANEWISE_MEMBERS(ReedMode, a, b, c)
CANEWISE_MEMBERS(FeelerStop, a, b)
CANEWISE_MEMBERS(FacingCurve, a, b, c, d)
CANEWISE_MEMBERS(Mouthpiece, a, b, c, d, e, f)
CANEWISE_MEMBERS(ClosingPoint, a, b, c, d, e, f)
CANEWISE_MEMBERS(OtherOpening, a, b)
CANEWISE_MEMBERS(Closing, a, b, c, d, e, f, g, h)
CANEWISE_MEMBERS(Strength, a, b, c, d, e)
CANEWISE_MEMBERS(LyingOnRails, a, b, c, d)
CANEWISE_MEMBERS(Mechanics, a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r)
CANEWISE_MEMBERS(ClippedReed, a, b, c, d)
CANEWISE_MEMBERS(PlanPoint, a, b)
CANEWISE_MEMBERS(ScrapeStep, a, b, c, d, e, f, g, h, i, j, k, l, m, n)
CANEWISE_MEMBERS(PlannedZone, a, b, c, d)
CANEWISE_MEMBERS(PlannedFigure, a, b, c)
CANEWISE_MEMBERS(ScrapePlan, a, b, c, d, e, f, g, h, i, j)
CANEWISE_MEMBERS(ReedName, a, b, c)
CANEWISE_MEMBERS(Result, a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y, z, aa, bb, cc, dd)
#undef CANEWISE_MEMBERS

// Versions of the formatter lay concepts out differently.
// clang-format off
/// The rig's own calibration stays with the rig: no result holds any.
template <typename T>
concept IsOfTheRigAlone =
    std::same_as<T, CalibratedCamera> || std::same_as<T, LaserPlane> || std::same_as<T, Stage> ||
    std::same_as<T, PlateForm> || std::same_as<T, DepthCorrection> || std::same_as<T, HeightScale> ||
    std::same_as<T, LightDepth> || std::same_as<T, SmallestDifference> || std::same_as<T, CheckRecord>;

template <typename T>
concept HasMembers = requires(const T& value) { members(value); };

template <typename T>
concept IsPlain = std::integral<T> || std::is_enum_v<T> || std::same_as<T, std::string> ||
                  std::same_as<T, std::filesystem::path> || std::same_as<T, Message>;
// clang-format on

/// To the last bit; what is not known equals what is not known.
template <std::floating_point T>
bool same(T a, T b) {
  return a == b || (std::isnan(a) && std::isnan(b));
}
template <IsPlain T>
bool same(const T& a, const T& b) {
  return a == b;
}
template <IsOfTheRigAlone T>
bool same(const T&, const T&) {
  return false;
}
template <typename T>
bool same(const Eigen::DenseBase<T>& a, const Eigen::DenseBase<T>& b) {
  if (a.rows() != b.rows() || a.cols() != b.cols()) return false;
  for (Eigen::Index c = 0; c < a.cols(); ++c) {
    for (Eigen::Index r = 0; r < a.rows(); ++r)
      if (!same(a.derived()(r, c), b.derived()(r, c))) return false;
  }
  return true;
}
template <HasMembers T>
bool same(const T& a, const T& b);
template <typename T>
bool same(const std::optional<T>& a, const std::optional<T>& b);
template <typename T>
bool same(const std::map<std::string, T>& a, const std::map<std::string, T>& b);
template <typename T, std::size_t n>
bool same(const std::array<T, n>& a, const std::array<T, n>& b);
template <typename T>
bool same(const std::vector<T>& a, const std::vector<T>& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t k = 0; k < a.size(); ++k)
    if (!same(a[k], b[k])) return false;
  return true;
}
template <typename T, std::size_t n>
bool same(const std::array<T, n>& a, const std::array<T, n>& b) {
  for (std::size_t k = 0; k < n; ++k)
    if (!same(a.at(k), b.at(k))) return false;
  return true;
}
template <typename T>
bool same(const std::optional<T>& a, const std::optional<T>& b) {
  return a.has_value() == b.has_value() && (!a || same(*a, *b));
}
template <typename T>
bool same(const std::map<std::string, T>& a, const std::map<std::string, T>& b) {
  return a == b;
}
/// Members k and after.
template <std::size_t k, typename Members>
bool same_from(const Members& a, const Members& b, const char* type) {
  if constexpr (k == std::tuple_size_v<Members>) {
    return true;
  } else {
    if (same(std::get<k>(a), std::get<k>(b))) return same_from<k + 1>(a, b, type);
    ADD_FAILURE() << "member " << k + 1 << " of " << type << " differs";
    return false;
  }
}
template <HasMembers T>
bool same(const T& a, const T& b) {
  return same_from<0>(members(a), members(b), typeid(T).name());
}

}  // namespace canewise::test
