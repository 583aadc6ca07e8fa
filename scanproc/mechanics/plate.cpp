#include "scanproc/mechanics/plate.h"

#include <Spectra/SymGEigsShiftSolver.h>

#include <Eigen/CholmodSupport>
#include <Eigen/Eigenvalues>
#include <Eigen/SparseCore>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "scanproc/core/parallel.h"
#include "scanproc/mechanics/plate_element.h"
#include "scanproc/mechanics/plate_triangles.h"
#include "scanproc/mechanics/plate_work.h"

namespace canewise {
namespace {

using Sparse = Eigen::SparseMatrix<double>;
using Triplet = Eigen::Triplet<double, int>;
using Nine = Eigen::Matrix<double, 9, 1>;

constexpr double kTonnesPerMm3 =
    1e-12;  ///< Per kilogram a cubic metre: with newtons and millimetres this gives seconds.

/// Whether the fixed freedoms leave no rigid motion (1, x, y): nothing else bends a connected plate without work.
bool is_held(const PlateMesh& mesh, const std::vector<char>& fixed) {
  const Eigen::Vector2d middle = mesh.nodes_mm.rowwise().mean();
  const double size = (mesh.nodes_mm.colwise() - middle).cwiseAbs().maxCoeff();
  Eigen::Matrix3d held = Eigen::Matrix3d::Zero();
  for (Eigen::Index n = 0; n < mesh.nodes(); ++n) {
    Eigen::Matrix3d motions = Eigen::Matrix3d::Identity();
    motions.row(0).tail<2>() = (mesh.nodes_mm.col(n) - middle).transpose() / size;
    for (Eigen::Index k = 0; k < 3; ++k)
      if (fixed[static_cast<std::size_t>(3 * n + k)] != 0) held += motions.row(k).transpose() * motions.row(k);
  }
  constexpr double rounding = 1e-9;
  return Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(held).eigenvalues()(0) > rounding;
}

/// CHOLMOD's workspace of one call: it counts its memory there, so that threads must not share it.
class CholmodWorkspace {
 public:
  CholmodWorkspace() {
    cholmod_start(&common_);
    common_.print = 0;
  }
  ~CholmodWorkspace() { cholmod_finish(&common_); }
  CholmodWorkspace(const CholmodWorkspace&) = delete;
  CholmodWorkspace& operator=(const CholmodWorkspace&) = delete;
  [[nodiscard]] cholmod_common* get() { return &common_; }

 private:
  cholmod_common common_{};
};

/// A factor that several threads may solve with at once: solving only reads it.
class Factor {
 public:
  void compute(const Sparse& lower) {
    factor_.setMode(Eigen::CholmodSupernodalLLt);
    factor_.cholmod().print = 0;
    factor_.compute(lower);
    if (factor_.info() != Eigen::Success) throw std::runtime_error("the plate's stiffness cannot be factorised");
  }
  [[nodiscard]] Eigen::MatrixXd solve(Eigen::MatrixXd right) const {
    CholmodWorkspace workspace;
    cholmod_dense loads{};
    loads.nrow = loads.d = static_cast<std::size_t>(right.rows());
    loads.ncol = static_cast<std::size_t>(right.cols());
    loads.nzmax = static_cast<std::size_t>(right.size());
    loads.x = right.data();
    loads.xtype = CHOLMOD_REAL;
    loads.dtype = CHOLMOD_DOUBLE;
    cholmod_dense* solution = cholmod_solve(CHOLMOD_A, factor_.get(), &loads, workspace.get());
    if (solution == nullptr) throw std::runtime_error("the plate's loads cannot be solved for");
    right = Eigen::Map<const Eigen::MatrixXd>(static_cast<const double*>(solution->x), right.rows(), right.cols());
    cholmod_free_dense(&solution, workspace.get());
    return right;
  }

 private:
  struct Decomposition : Eigen::CholmodDecomposition<Sparse, Eigen::Lower> {
    [[nodiscard]] cholmod_factor* get() const { return m_cholmodFactor; }
  };
  Decomposition factor_;
};

/// A matrix as Spectra wants its operators: x to y = A^-1 x.
class InverseStiffness {
 public:
  using Scalar = double;
  explicit InverseStiffness(const Factor& factor, Eigen::Index size) : factor_(&factor), size_(size) {}
  [[nodiscard]] Eigen::Index rows() const { return size_; }
  [[nodiscard]] Eigen::Index cols() const { return size_; }
  void set_shift(double /*always about zero*/) const {}
  void perform_op(const double* x, double* y) const {
    Eigen::Map<Eigen::VectorXd>(y, size_) = factor_->solve(Eigen::Map<const Eigen::VectorXd>(x, size_)).col(0);
  }

 private:
  const Factor* factor_;
  Eigen::Index size_;
};

class Mass {
 public:
  using Scalar = double;
  explicit Mass(const Sparse& lower) : lower_(&lower) {}
  [[nodiscard]] Eigen::Index rows() const { return lower_->rows(); }
  [[nodiscard]] Eigen::Index cols() const { return lower_->cols(); }
  void perform_op(const double* x, double* y) const {
    Eigen::Map<Eigen::VectorXd>(y, rows()) =
        lower_->selfadjointView<Eigen::Lower>() * Eigen::Map<const Eigen::VectorXd>(x, rows());
  }

 private:
  const Sparse* lower_;
};

}  // namespace

struct Plate::Solver {
  std::vector<int> free_number;  ///< Of each degree of freedom; -1: held.
  Eigen::Index free_count = 0;
  Sparse stiffness;  ///< Lower half, free degrees of freedom.
  mutable Sparse mass;
  Factor factor;
  std::unique_ptr<TriangleFinder> finder;

  [[nodiscard]] Eigen::MatrixXd reduced(const Eigen::MatrixXd& whole) const {
    Eigen::MatrixXd few(free_count, whole.cols());
    for (Eigen::Index column = 0; column < whole.cols(); ++column)
      for (std::size_t k = 0; k < free_number.size(); ++k)
        if (free_number[k] >= 0) few(free_number[k], column) = whole(static_cast<Eigen::Index>(k), column);
    return few;
  }
  [[nodiscard]] Eigen::MatrixXd expanded(const Eigen::MatrixXd& few) const {
    Eigen::MatrixXd whole = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(free_number.size()), few.cols());
    for (Eigen::Index column = 0; column < few.cols(); ++column)
      for (std::size_t k = 0; k < free_number.size(); ++k)
        if (free_number[k] >= 0) whole(static_cast<Eigen::Index>(k), column) = few(free_number[k], column);
    return whole;
  }
  /// `local(t)` gives a triangle's 9 x 9.
  template <typename Local>
  [[nodiscard]] Sparse assembled(const PlateMesh& mesh, const Local& local) const {
    std::array<std::vector<Triplet>, kParallelParts> parts;
    for (auto& part : parts) part.reserve(45 * (mesh.triangles.size() / kParallelParts + 1));
    for_triangles(mesh, [&](std::size_t part, std::size_t t) {
      const Eigen::Matrix<double, 9, 9> m = local(t);
      for (int i = 0; i < 9; ++i) {
        const int row = free_number[static_cast<std::size_t>(freedom(mesh, t, i))];
        if (row < 0) continue;
        for (int j = 0; j < 9; ++j) {
          const int column = free_number[static_cast<std::size_t>(freedom(mesh, t, j))];
          if (column >= 0 && column <= row) parts.at(part).emplace_back(row, column, m(i, j));
        }
      }
    });
    std::vector<Triplet> all = std::move(parts.front());
    for (std::size_t part = 1; part < kParallelParts; ++part)
      all.insert(all.end(), parts.at(part).begin(), parts.at(part).end());
    Sparse matrix(free_count, free_count);
    matrix.setFromTriplets(all.begin(), all.end());
    return matrix;
  }
};

Plate::Plate(PlateModel model)
    : model_(std::move(model)), stiffness_(plane_stress_stiffness(model_.cane)), solver_(std::make_unique<Solver>()) {
  const PlateMesh& mesh = model_.mesh;
  const auto points = mesh.nodes() + static_cast<Eigen::Index>(mesh.sides.size());
  if (model_.thickness_mm.size() != points || !(model_.thickness_mm.array() > 0.0).all() ||
      static_cast<Eigen::Index>(model_.fixed.size()) != 3 * mesh.nodes())
    throw std::invalid_argument("a plate needs a positive thickness at every point and a flag for every freedom");
  if (!is_held(mesh, model_.fixed)) throw std::runtime_error("the plate is not held: its stiffness is singular");
  Solver& s = *solver_;
  s.free_number.assign(model_.fixed.size(), -1);
  for (std::size_t k = 0; k < model_.fixed.size(); ++k)
    if (model_.fixed[k] == 0) s.free_number[k] = static_cast<int>(s.free_count++);
  s.stiffness = s.assembled(mesh, [&](std::size_t t) {
    const PlateElement element = element_of(mesh, t);
    const auto six = points_of(mesh, t);
    // Curvature is linear in the area coordinates, so only their products with the stiffness have to be integrated.
    Eigen::Matrix3d products = Eigen::Matrix3d::Zero();
    for (const auto& point : triangle_points()) {
      const LocalCane cane = cane_at(model_, six, quadratic_shapes(point.area));
      products += point.share * element.area_mm2() * cane.cube() * point.area * point.area.transpose();
    }
    const Eigen::Matrix<double, 9, 9> b = element.corner_curvatures();
    Eigen::Matrix<double, 9, 9> moments;
    for (Eigen::Index i = 0; i < 3; ++i) {
      Eigen::Matrix<double, 3, 9> sum = products(i, 0) * b.topRows<3>();
      for (Eigen::Index j = 1; j < 3; ++j) sum += products(i, j) * b.block<3, 9>(3 * j, 0);
      moments.block<3, 9>(3 * i, 0).noalias() = stiffness_ * sum;
    }
    return Eigen::Matrix<double, 9, 9>(b.transpose() * moments);
  });
  s.factor.compute(s.stiffness);
  s.finder = std::make_unique<TriangleFinder>(model_.mesh);
}

Plate::~Plate() = default;
// The finder points at the mesh, which moves along.
Plate::Plate(Plate&& other) noexcept
    : model_(std::move(other.model_)), stiffness_(std::move(other.stiffness_)), solver_(std::move(other.solver_)) {
  if (solver_) solver_->finder = std::make_unique<TriangleFinder>(model_.mesh);
}
Plate& Plate::operator=(Plate&& other) noexcept {
  model_ = std::move(other.model_);
  stiffness_ = other.stiffness_;
  solver_ = std::move(other.solver_);
  if (solver_) solver_->finder = std::make_unique<TriangleFinder>(model_.mesh);
  return *this;
}

Eigen::VectorXd Plate::load_of(const PointLoads& loads) const {
  const PlateMesh& mesh = model_.mesh;
  Eigen::VectorXd load = Eigen::VectorXd::Zero(3 * mesh.nodes());
  for (Eigen::Index p = 0; p < loads.points_mm.cols(); ++p) {
    const auto place = solver_->finder->find(loads.points_mm.col(p));
    if (place.triangle < 0) continue;
    const auto t = static_cast<std::size_t>(place.triangle);
    const auto shapes = element_of(mesh, t).deflection(place.area);
    for (int k = 0; k < 9; ++k) load(freedom(mesh, t, k)) += loads.weights(p) * shapes(k);
  }
  return load;
}

Eigen::VectorXd Plate::deflection_at(const Eigen::Matrix2Xd& points_mm, const Eigen::VectorXd& solution) const {
  Eigen::VectorXd deflection = Eigen::VectorXd::Constant(points_mm.cols(), std::nan(""));
  for (Eigen::Index p = 0; p < points_mm.cols(); ++p) {
    const auto place = solver_->finder->find(points_mm.col(p));
    if (place.triangle < 0) continue;
    const auto t = static_cast<std::size_t>(place.triangle);
    deflection(p) = element_of(model_.mesh, t).deflection(place.area) * gather(model_.mesh, t, solution);
  }
  return deflection;
}

Eigen::MatrixXd Plate::solve(const Eigen::MatrixXd& loads) const {
  constexpr Eigen::Index few = 16;
  if (loads.cols() <= few) return solver_->expanded(solver_->factor.solve(solver_->reduced(loads)));
  Eigen::MatrixXd solution(loads.rows(), loads.cols());
  run_parts([&](std::size_t part) {
    const auto cut = [&](std::size_t k) {
      return static_cast<Eigen::Index>(k) * loads.cols() / static_cast<Eigen::Index>(kParallelParts);
    };
    const Eigen::Index begin = cut(part), count = cut(part + 1) - begin;
    const Eigen::MatrixXd few_loads = loads.middleCols(begin, count);
    solution.middleCols(begin, count) = solver_->expanded(solver_->factor.solve(solver_->reduced(few_loads)));
  });
  return solution;
}

double Plate::bending_work(const Eigen::VectorXd& displacements) const {
  const Eigen::VectorXd free = solver_->reduced(displacements);
  return free.dot(solver_->stiffness.selfadjointView<Eigen::Lower>() * free);
}

Modes Plate::modes(int count) const {
  const Solver& s = *solver_;
  const PlateMesh& mesh = model_.mesh;
  if (s.mass.rows() == 0) {
    s.mass = s.assembled(mesh, [&](std::size_t t) {
      const PlateElement element = element_of(mesh, t);
      const auto six = points_of(mesh, t);
      Eigen::Matrix<double, 9, 9> m = Eigen::Matrix<double, 9, 9>::Zero();
      for (const auto& point : triangle_points()) {
        const auto n = element.deflection(point.area);
        const LocalCane cane = cane_at(model_, six, quadratic_shapes(point.area));
        m.noalias() += n.transpose() * (point.share * element.area_mm2() * kTonnesPerMm3 *
                                        model_.cane.density_kg_per_m3 * cane.thickness_mm * n);
      }
      return m;
    });
  }
  InverseStiffness inverse(s.factor, s.free_count);
  Mass mass(s.mass);
  const int basis = std::min(static_cast<int>(s.free_count), std::max(2 * count + 6, 16));
  Spectra::SymGEigsShiftSolver<InverseStiffness, Mass, Spectra::GEigsMode::ShiftInvert> solver(inverse, mass, count,
                                                                                               basis, 0.0);
  solver.init();
  constexpr int most_restarts = 300;
  constexpr double tolerance = 1e-9;
  solver.compute(Spectra::SortRule::LargestMagn, most_restarts, tolerance, Spectra::SortRule::SmallestAlge);
  if (solver.info() != Spectra::CompInfo::Successful) throw std::runtime_error("the plate's modes were not found");
  Modes modes;
  modes.frequency_hz = solver.eigenvalues().cwiseSqrt() / (2.0 * std::numbers::pi);
  modes.shapes = s.expanded(solver.eigenvectors());
  return modes;
}

std::vector<PlateDerivative> Plate::compliance_derivatives(const Eigen::MatrixXd& displacements) const {
  return work_derivatives(displacements, displacements);
}

std::vector<PlateDerivative> Plate::work_derivatives(const Eigen::MatrixXd& left, const Eigen::MatrixXd& right) const {
  const PlateMesh& mesh = model_.mesh;
  const auto count = static_cast<std::size_t>(left.cols());
  std::array<std::vector<WorkSums>, kParallelParts> parts;
  for (auto& part : parts) part.assign(count, {Eigen::VectorXd::Zero(model_.thickness_mm.size())});
  for_triangles(mesh, [&](std::size_t part, std::size_t t) {
    const BendingTriangle triangle = bending_triangle(model_, t);
    for (std::size_t load = 0; load < count; ++load) {
      const auto column = static_cast<Eigen::Index>(load);
      parts.at(part)[load].add(triangle, gather(mesh, t, left.col(column)), gather(mesh, t, right.col(column)),
                               stiffness_);
    }
  });
  std::vector<PlateDerivative> derivatives;
  for (std::size_t load = 0; load < count; ++load) {
    WorkSums sums = std::move(parts[0][load]);
    for (std::size_t part = 1; part < kParallelParts; ++part) sums.add(parts.at(part)[load]);
    derivatives.push_back(derivative_from(std::move(sums), model_.cane));
  }
  return derivatives;
}

std::vector<PlateDerivative> Plate::frequency_derivatives(const Modes& modes) const {
  // lambda' = shape' (dK - lambda dM) shape, and f = sqrt(lambda) / 2 pi.
  std::vector<PlateDerivative> derivatives = compliance_derivatives(modes.shapes);
  const double density = kTonnesPerMm3 * model_.cane.density_kg_per_m3;
  for (std::size_t number = 0; number < derivatives.size(); ++number) {
    PlateDerivative& derivative = derivatives[number];
    const auto column = static_cast<Eigen::Index>(number);
    const Eigen::VectorXd shape = modes.shapes.col(column);
    derivative.by_thickness *= -1.0;
    derivative.by_cane *= -1.0;
    const double omega = 2.0 * std::numbers::pi * modes.frequency_hz(column), lambda = omega * omega;
    for (std::size_t t = 0; t < model_.mesh.triangles.size(); ++t) {
      const PlateElement element = element_of(model_.mesh, t);
      const auto six = points_of(model_.mesh, t);
      const Nine u = gather(model_.mesh, t, shape);
      for (const auto& point : triangle_points()) {
        const double w = element.deflection(point.area) * u;
        const double inertia = lambda * density * point.share * element.area_mm2() * w * w;
        const auto shapes = quadratic_shapes(point.area);
        for (int k = 0; k < 6; ++k) derivative.by_thickness(six.at(static_cast<std::size_t>(k))) -= inertia * shapes(k);
      }
    }
    derivative.by_cane(static_cast<Eigen::Index>(CanePart::density)) = -lambda;
    const double to_hertz = 1.0 / (2.0 * omega * 2.0 * std::numbers::pi);
    derivative.by_thickness *= to_hertz;
    derivative.by_cane *= to_hertz;
  }
  return derivatives;
}

}  // namespace canewise
