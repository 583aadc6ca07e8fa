#include "scanproc/pipeline/fields_json.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "scanproc/pipeline/check_result.h"
#include "scanproc/pipeline/file_digits.h"

namespace canewise {
namespace {

using nlohmann::json;

template <typename Field, typename Write>
json rows_of(const Field& field, const Write& write) {
  json rows = json::array();
  for (Eigen::Index r = 0; r < field.rows(); ++r) {
    json row = json::array();
    for (Eigen::Index c = 0; c < field.cols(); ++c)
      row.push_back(std::isnan(field(r, c)) ? json(nullptr) : json(write(field(r, c))));
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace

json rows_from(const Eigen::ArrayXXd& field) { return rows_of(field, file_digits_mm); }

json rows_from(const Eigen::ArrayXXf& field) {
  return rows_of(field, [](float value) { return file_digits_mm(static_cast<double>(value)); });
}

Eigen::ArrayXXd field_from(const json& rows) {
  const auto count = static_cast<Eigen::Index>(rows.size());
  Eigen::ArrayXXd field(count, count > 0 ? static_cast<Eigen::Index>(rows.at(0).size()) : 0);
  for (Eigen::Index r = 0; r < field.rows(); ++r) {
    const auto& row = rows.at(static_cast<std::size_t>(r));
    if (static_cast<Eigen::Index>(row.size()) != field.cols()) throw Impossible{Message("result.rows_unequal")};
    for (Eigen::Index c = 0; c < field.cols(); ++c) field(r, c) = row.at(static_cast<std::size_t>(c)).get<double>();
  }
  return field;
}

Eigen::ArrayXXf small_field_from(const json& rows) { return field_from(rows).cast<float>(); }

json millionths_from(const Eigen::ArrayXXf& field) { return rows_of(field, file_millionths); }

Eigen::ArrayXXf field_from_millionths(const json& rows) { return small_field_from(rows) / 1e6F; }

json rows_from(const Eigen::MatrixXd& matrix) {
  json rows = json::array();
  for (Eigen::Index r = 0; r < matrix.rows(); ++r) {
    json row = json::array();
    for (Eigen::Index c = 0; c < matrix.cols(); ++c) row.push_back(matrix(r, c));
    rows.push_back(std::move(row));
  }
  return rows;
}

Eigen::MatrixXd matrix_from(const json& rows, Eigen::Index size) {
  const Eigen::ArrayXXd matrix = field_from(rows);
  if (matrix.rows() != size || matrix.cols() != size) throw Impossible{Message("result.matrix_size")};
  return matrix;
}

}  // namespace canewise
