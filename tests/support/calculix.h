#pragma once

#include <sys/wait.h>

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iomanip>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "tests/support/temp_file.h"

namespace canewise::test {

/// A body of bricks of twenty nodes for CalculiX (`ccx`; Debian: calculix-ccx), an independent solver. Newtons,
/// millimetres, seconds, hence tonnes.
struct CalculixModel {
  Eigen::Matrix3Xd nodes_mm;
  std::vector<std::array<int, 20>> bricks;  ///< In CalculiX's order, nodes counted from 0.
  std::string type = "C3D20R";
  /// E1, E2, E3, nu12, nu13, nu23, G12, G13, G23, MPa; axes 1, 2, 3 are x, y, z.
  std::array<double, 9> elastic_mpa{};
  double density_kg_per_m3 = 0.0;
  std::vector<int> held;                        ///< Nodes that do not move.
  std::vector<Eigen::VectorXd> upward_newtons;  ///< Load cases, a force along z for every node.
  int mode_count = 0;
  bool large_deflections = false;  ///< Equilibrium where the body ends up, in small steps of load.
};

struct CalculixResult {
  std::vector<Eigen::VectorXd> upward_mm;  ///< By load case, for every node.
  Eigen::VectorXd frequency_hz;
};

inline std::string calculix_input(const CalculixModel& model) {
  std::ostringstream out;
  out << std::setprecision(12) << "*NODE, NSET=ALL\n";
  for (Eigen::Index n = 0; n < model.nodes_mm.cols(); ++n)
    out << n + 1 << ", " << model.nodes_mm(0, n) << ", " << model.nodes_mm(1, n) << ", " << model.nodes_mm(2, n)
        << "\n";
  out << "*ELEMENT, TYPE=" << model.type << ", ELSET=BODY\n";
  for (std::size_t e = 0; e < model.bricks.size(); ++e) {
    out << e + 1;
    // No more than sixteen entries a line.
    for (std::size_t k = 0; k < 20; ++k) out << (k == 10 ? ",\n" : ", ") << model.bricks[e].at(k) + 1;
    out << "\n";
  }
  out << "*NSET, NSET=HELD\n";
  for (const int n : model.held) out << n + 1 << ",\n";
  const auto& c = model.elastic_mpa;
  out << "*MATERIAL, NAME=CANE\n*ELASTIC, TYPE=ENGINEERING CONSTANTS\n";
  for (std::size_t k = 0; k < 8; ++k) out << c.at(k) << (k == 7 ? "\n" : ", ");
  out << c[8] << "\n*DENSITY\n"
      << 1e-12 * model.density_kg_per_m3 << "\n*SOLID SECTION, ELSET=BODY, MATERIAL=CANE\n"
      << "*BOUNDARY\nHELD, 1, 3\n";
  for (const Eigen::VectorXd& load : model.upward_newtons) {
    out << (model.large_deflections ? "*STEP, NLGEOM\n*STATIC\n0.25, 1.\n" : "*STEP\n*STATIC\n") << "*CLOAD, OP=NEW\n";
    for (Eigen::Index n = 0; n < load.size(); ++n)
      if (load(n) != 0.0) out << n + 1 << ", 3, " << load(n) << "\n";
    out << "*NODE PRINT, NSET=ALL, FREQUENCY=1000\nU\n*END STEP\n";  // At the end of each step alone.
  }
  if (model.mode_count > 0) out << "*STEP\n*FREQUENCY\n" << model.mode_count << "\n*END STEP\n";
  return out.str();
}

/// Reads CalculiX's list of printed results. After the load cases it also prints the modes' shapes, which are left out.
inline CalculixResult calculix_result(std::istream& list, const CalculixModel& model) {
  enum class Part { other, displacements, eigenvalues } part = Part::other;
  CalculixResult result;
  std::vector<double> frequencies;
  for (std::string line; std::getline(list, line);) {
    if (line.find("displacements") != std::string::npos) {
      part = result.upward_mm.size() < model.upward_newtons.size() ? Part::displacements : Part::other;
      if (part == Part::displacements)
        result.upward_mm.emplace_back(Eigen::VectorXd::Constant(model.nodes_mm.cols(), std::nan("")));
    } else if (line.find("E I G E N V A L U E   O U T P U T") != std::string::npos) {
      part = Part::eigenvalues;
    } else if (line.find("P A R T I C I P A T I O N") != std::string::npos) {
      part = Part::other;
    }
    // A node and its displacement; or a mode, its eigenvalue, and its frequency in radians and in cycles a second.
    std::istringstream fields(line);
    int number = 0;
    double first = 0.0, second = 0.0, third = 0.0;
    if (part == Part::other || !(fields >> number >> first >> second >> third)) continue;
    if (part == Part::eigenvalues) {
      frequencies.push_back(third);
    } else if (number >= 1 && number <= model.nodes_mm.cols()) {
      result.upward_mm.back()(number - 1) = third;
    }
  }
  result.frequency_hz =
      Eigen::Map<const Eigen::VectorXd>(frequencies.data(), static_cast<Eigen::Index>(frequencies.size()));
  return result;
}

/// Throws std::runtime_error with what CalculiX said if it cannot be run, fails, or leaves something out.
inline CalculixResult run_calculix(const CalculixModel& model) {
  const TempFolder folder;
  folder.file("body.inp", calculix_input(model));
  // Its own exit code says nothing before 2.21, hence the look at what it leaves.
  const std::string command = "cd '" + folder.path().string() + "' && OMP_NUM_THREADS=1 ccx -i body > said.txt 2>&1";
  const int status = std::system(command.c_str());
  if (WIFEXITED(status) && WEXITSTATUS(status) == 127)
    throw std::runtime_error("ccx is not installed: it is in Debian's package calculix-ccx (./dev setup installs it)");
  std::ifstream list(folder.path() / "body.dat");
  CalculixResult result = calculix_result(list, model);
  bool complete =
      result.upward_mm.size() == model.upward_newtons.size() && result.frequency_hz.size() >= model.mode_count;
  for (const Eigen::VectorXd& upward : result.upward_mm) complete = complete && upward.allFinite();
  if (!complete) {
    std::ostringstream said;
    said << std::ifstream(folder.path() / "said.txt").rdbuf();
    const std::string text = said.str();
    constexpr std::size_t most = 3000;
    throw std::runtime_error("ccx did not give all results; it said: " +
                             text.substr(text.size() > most ? text.size() - most : 0));
  }
  return result;
}

}  // namespace canewise::test
