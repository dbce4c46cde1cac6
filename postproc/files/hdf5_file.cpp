#include "postproc/files/hdf5_file.hpp"

#include <fmt/format.h>
#include <hdf5.h>

#include <functional>
#include <numeric>
#include <stdexcept>
#include <string>
#include <utility>

#include "postproc/output/atomic_file.hpp"

namespace limbwright::postproc {
namespace {

namespace fs = std::filesystem;

void check(herr_t status, const std::string& what) {
    if (status < 0) throw std::runtime_error("HDF5 cannot write " + what);
}

/// An open HDF5 object, closed when it goes out of scope.
class Handle {
public:
    Handle(hid_t id, herr_t (*closer)(hid_t), const std::string& what) : id_(id), closer_(closer) {
        if (id < 0) throw std::runtime_error("HDF5 cannot write " + what);
    }
    ~Handle() {
        if (id_ >= 0) closer_(id_);
    }
    Handle(Handle&& other) noexcept : id_(std::exchange(other.id_, -1)), closer_(other.closer_) {}
    Handle& operator=(Handle&&) = delete;

    [[nodiscard]] hid_t id() const { return id_; }

    /// Closing a file writes what is still in memory, and only this way is its failure heard of.
    void close(const std::string& what) { check(closer_(std::exchange(id_, -1)), what); }

private:
    hid_t id_;
    herr_t (*closer_)(hid_t);
};

Handle string_type() {
    Handle type(H5Tcopy(H5T_C_S1), H5Tclose, "a string type");
    check(H5Tset_size(type.id(), H5T_VARIABLE), "a string type");
    check(H5Tset_cset(type.id(), H5T_CSET_UTF8), "a string type");
    return type;
}

Handle scalar_space() {
    return {H5Screate(H5S_SCALAR), H5Sclose, "a scalar"};
}

Handle array_space(const std::vector<std::size_t>& extents) {
    const std::vector<hsize_t> sizes(extents.begin(), extents.end());
    return {H5Screate_simple(static_cast<int>(sizes.size()), sizes.data(), nullptr), H5Sclose, "an array"};
}

void checked_name(const std::string& name) {
    if (name.empty() || name.find('/') != std::string::npos)
        throw std::invalid_argument(fmt::format("\"{}\" cannot be a name in an HDF5 file", name));
}

Handle data_set(hid_t parent, const std::string& name, hid_t type, const Handle& space) {
    checked_name(name);
    const Handle creation(H5Pcreate(H5P_DATASET_CREATE), H5Pclose, name);
    check(H5Pset_obj_track_times(creation.id(), false), name);
    return {H5Dcreate2(parent, name.c_str(), type, space.id(), H5P_DEFAULT, creation.id(), H5P_DEFAULT),
            H5Dclose, name};
}

void write_attribute(hid_t parent, const std::string& name, const std::string& value) {
    const Handle type = string_type();
    const Handle space = scalar_space();
    const Handle attribute(H5Acreate2(parent, name.c_str(), type.id(), space.id(), H5P_DEFAULT, H5P_DEFAULT),
                           H5Aclose, name);
    const char* text = value.c_str();
    check(H5Awrite(attribute.id(), type.id(), &text), name);
}

void write(hid_t parent, const Numbers& numbers) {
    const std::size_t wanted =
        std::accumulate(numbers.extents.begin(), numbers.extents.end(), std::size_t{1}, std::multiplies<>());
    if (numbers.values.size() != wanted)
        throw std::invalid_argument(fmt::format("\"{}\" has {} values, its extents ask for {}", numbers.name,
                                                numbers.values.size(), wanted));
    const Handle space = numbers.extents.empty() ? scalar_space() : array_space(numbers.extents);
    const Handle set = data_set(parent, numbers.name, H5T_IEEE_F64LE, space);
    if (wanted > 0)
        check(H5Dwrite(set.id(), H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, numbers.values.data()),
              numbers.name);
    write_attribute(set.id(), "unit", numbers.unit);
    write_attribute(set.id(), "definition", numbers.definition);
}

void write(hid_t parent, const Texts& texts) {
    if (!texts.is_list && texts.values.size() != 1)
        throw std::invalid_argument(
            fmt::format("\"{}\" holds {} texts, not one", texts.name, texts.values.size()));
    const Handle type = string_type();
    const Handle space = texts.is_list ? array_space({texts.values.size()}) : scalar_space();
    const Handle set = data_set(parent, texts.name, type.id(), space);
    std::vector<const char*> pointers;
    for (const std::string& text : texts.values) pointers.push_back(text.c_str());
    if (!pointers.empty())
        check(H5Dwrite(set.id(), type.id(), H5S_ALL, H5S_ALL, H5P_DEFAULT, pointers.data()), texts.name);
    write_attribute(set.id(), "definition", texts.definition);
}

void fill(hid_t here, const Group& group) {
    for (const Attribute& attribute : group.attributes)
        write_attribute(here, attribute.name, attribute.value);
    for (const Texts& texts : group.texts) write(here, texts);
    for (const Numbers& numbers : group.numbers) write(here, numbers);
    for (const Group& child : group.groups) {
        checked_name(child.name);
        const Handle inner(H5Gcreate2(here, child.name.c_str(), H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT),
                           H5Gclose, child.name);
        fill(inner.id(), child);
    }
}

}  // namespace

void write_hdf5(const fs::path& file, const Group& root) {
    // Failures are thrown, not printed.
    check(H5Eset_auto2(H5E_DEFAULT, nullptr, nullptr), file.string());
    write_whole_file(file, [&](const fs::path& temporary) {
        Handle handle(H5Fcreate(temporary.c_str(), H5F_ACC_TRUNC, H5P_DEFAULT, H5P_DEFAULT), H5Fclose,
                      file.string());
        fill(handle.id(), root);
        handle.close(file.string());
    });
}

}  // namespace limbwright::postproc
