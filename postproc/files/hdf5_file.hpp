#pragma once

#include <filesystem>

#include "postproc/output/data_tree.hpp"

/// A tree of results as an HDF5 file (sole user of HDF5).
namespace limbwright::postproc {

/// Numbers as 64-bit floats, texts as UTF-8 of variable length, units and definitions as attributes `unit`
/// and `definition` of their data set. No time stamps: the same tree gives the same bytes. An interrupted run
/// leaves the old file or a whole new one.
///
/// @throws std::invalid_argument if values do not fill their extents, or a name is empty or contains '/'
/// @throws std::runtime_error if the file cannot be written
void write_hdf5(const std::filesystem::path& file, const Group& root);

}  // namespace limbwright::postproc
