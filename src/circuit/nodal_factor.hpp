#pragma once
#include <Eigen/Cholesky>
#include <Eigen/Dense>
#include <Eigen/SparseCholesky>

#include "circuit/nodal.hpp"

/// Inside of the engine: the matrix of a nodal system with its Cholesky factors, which Eigen's headers keep out of
/// nodal.hpp.
namespace zoneproof::circuit {

struct NodalSystem::Factor {
  bool dense = true;
  Eigen::MatrixXd matrix;
  Eigen::LLT<Eigen::MatrixXd> dense_factor;
  Eigen::SparseMatrix<double> sparse_matrix;
  Eigen::SimplicialLLT<Eigen::SparseMatrix<double>> sparse_factor;
  bool ready = false;        ///< of the companions as they are
  bool ordered = false;      ///< sparse: the elimination order of its pattern is known
  bool all_positive = true;  ///< no negative conductance: an M-matrix
};

}  // namespace zoneproof::circuit
