#include "meshes/vtk_surface.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <vtkCellData.h>
#include <vtkCellType.h>
#include <vtkCellTypes.h>
#include <vtkCommand.h>
#include <vtkDataArray.h>
#include <vtkLogger.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkSmartPointer.h>
#include <vtkUnstructuredGrid.h>
#include <vtkUnstructuredGridReader.h>
#include <vtkXMLUnstructuredGridReader.h>

#include <cmath>
#include <optional>
#include <set>
#include <stdexcept>
#include <string>

#include "meshes/mesh_file.hpp"

namespace limbwright::meshes {
namespace {

namespace fs = std::filesystem;
using Grid = vtkSmartPointer<vtkUnstructuredGrid>;

template <class... Arguments>
[[noreturn]] void refuse(fmt::format_string<Arguments...> text, Arguments&&... arguments) {
    throw std::runtime_error(fmt::format(text, std::forward<Arguments>(arguments)...));
}

/// Keeps the first of VTK's complaints.
class Listener final : public vtkCommand {
public:
    static Listener* New() { return new Listener; }
    void Execute(vtkObject*, unsigned long, void* data) override {
        if (!said_.empty()) return;
        said_ = data ? static_cast<const char*>(data) : "it cannot be read";
        // "ERROR: In file, line n\nvtkClass (address): what it is about\n\n"
        if (const std::size_t place = said_.find("): "); place != std::string::npos)
            said_.erase(0, place + 3);
        while (said_.ends_with('\n')) said_.pop_back();
    }
    void refuse_if_heard() const {
        if (!said_.empty()) refuse("VTK says: {}", said_);
    }

private:
    std::string said_;
};

Grid read_xml(const fs::path& file) {
    const vtkNew<vtkXMLUnstructuredGridReader> reader;
    if (!reader->CanReadFile(file.c_str()))
        refuse("wanted VTK's XML file of an unstructured grid, found something else");
    const vtkNew<Listener> listener;
    reader->AddObserver(vtkCommand::ErrorEvent, listener);
    reader->SetReaderErrorObserver(listener);
    reader->SetParserErrorObserver(listener);
    reader->SetFileName(file.c_str());
    reader->Update();
    listener->refuse_if_heard();
    return reader->GetOutput();
}

Grid read_legacy(const fs::path& file) {
    const vtkNew<vtkUnstructuredGridReader> reader;
    const vtkNew<Listener> listener;
    reader->AddObserver(vtkCommand::ErrorEvent, listener);
    reader->SetFileName(file.c_str());
    if (!reader->IsFileUnstructuredGrid())
        refuse("wanted a legacy VTK file of an unstructured grid, found something else");
    reader->ReadAllScalarsOn();
    reader->ReadAllVectorsOn();
    reader->ReadAllFieldsOn();
    reader->Update();
    listener->refuse_if_heard();
    return reader->GetOutput();
}

Grid read_grid(const fs::path& file) {
    if (!fs::is_regular_file(file)) refuse("there is no such file");
    // A listener hears what is wrong; what follows from it would go to the terminal.
    vtkLogger::SetStderrVerbosity(vtkLogger::VERBOSITY_OFF);
    if (file.extension() == ".vtu") return read_xml(file);
    if (file.extension() == ".vtk") return read_legacy(file);
    refuse("wanted a file that ends in .vtu or .vtk, found \"{}\"", file.extension().string());
}

void refuse_other_cells(vtkUnstructuredGrid& grid) {
    std::set<std::string> others;
    for (vtkIdType c = 0; c < grid.GetNumberOfCells(); ++c) {
        const int type = grid.GetCellType(c);
        if (type != VTK_TRIANGLE && type != VTK_QUAD)
            others.insert(fmt::format("{} ({})", vtkCellTypes::GetClassNameFromTypeId(type), type));
    }
    if (!others.empty())
        refuse("wanted cells vtkTriangle (5) and vtkQuad (9) only, found {}", fmt::join(others, ", "));
    if (grid.GetNumberOfCells() == 0) refuse("wanted triangles and quads, found no cell");
}

std::vector<int> corners_of(vtkUnstructuredGrid& grid, vtkIdType cell) {
    vtkIdType count = 0;
    const vtkIdType* points = nullptr;
    grid.GetCellPoints(cell, count, points);
    const vtkIdType wanted = grid.GetCellType(cell) == VTK_TRIANGLE ? 3 : 4;
    if (count != wanted) refuse("cell {}: wanted {} corners, found {}", cell, wanted, count);
    std::vector<int> corners;
    for (vtkIdType i = 0; i < count; ++i) {
        if (points[i] < 0 || points[i] >= grid.GetNumberOfPoints())
            refuse("cell {}: wanted points 0 to {} as corners, found {}", cell, grid.GetNumberOfPoints() - 1,
                   points[i]);
        corners.push_back(static_cast<int>(points[i]));
    }
    return corners;
}

std::string names_of(vtkFieldData& data) {
    std::string names;
    for (int i = 0; i < data.GetNumberOfArrays(); ++i) {
        const char* name = data.GetArrayName(i);
        names += fmt::format("{}\"{}\"", names.empty() ? "" : ", ", name ? name : "");
    }
    return names.empty() ? "none" : names;
}

/// An array of numbers by its name; null if there is none.
///
/// @param kind  "cell", "point", for the message
vtkDataArray* array_of(vtkFieldData& data, const char* name, const char* kind, int components) {
    vtkDataArray* array = data.GetArray(name);
    if (array && array->GetNumberOfComponents() != components)
        refuse("{} array \"{}\": wanted {} component{}, found {}", kind, name, components,
               components == 1 ? "" : "s", array->GetNumberOfComponents());
    return array;
}

/// Thickness of each cell from the one or the other array.
class Thickness {
public:
    explicit Thickness(vtkUnstructuredGrid& grid)
        : of_cells_(array_of(*grid.GetCellData(), name, "cell", 1)),
          of_points_(array_of(*grid.GetPointData(), name, "point", 1)) {
        if (!of_cells_ && !of_points_)
            refuse(
                "wanted a cell array \"{}\" [mm] or a point array of that name, found cell arrays {} and "
                "point arrays {}",
                name, names_of(*grid.GetCellData()), names_of(*grid.GetPointData()));
    }
    [[nodiscard]] double at(vtkIdType cell, const std::vector<int>& corners) const {
        double thickness = 0;
        if (of_cells_)
            thickness = of_cells_->GetComponent(cell, 0);
        else
            for (const int corner : corners)
                thickness += of_points_->GetComponent(corner, 0) / static_cast<double>(corners.size());
        if (!(thickness > 0) || !std::isfinite(thickness))
            refuse("cell {}: wanted a positive thickness [mm], found {}", cell, thickness);
        return thickness;
    }

private:
    static constexpr const char* name = "thickness";
    vtkDataArray *of_cells_, *of_points_;
};

Vec3 direction_at(vtkDataArray& directions, vtkIdType cell) {
    Vec3 direction;
    directions.GetTuple(cell, direction.data());
    if (!direction.allFinite() || direction.isZero(0))
        refuse("cell {}: wanted a direction, found ({}, {}, {})", cell, direction.x(), direction.y(),
               direction.z());
    return direction.normalized();
}

bool is_of_integers(vtkDataArray& array) {
    return array.GetNumberOfComponents() == 1 && array.GetDataType() != VTK_FLOAT &&
           array.GetDataType() != VTK_DOUBLE;
}

/// Points of a set that is a point array; none if other numbers than 0 and 1 stand in it.
std::optional<std::vector<vtkIdType>> marked_points(vtkDataArray& array) {
    std::vector<vtkIdType> points;
    for (vtkIdType p = 0; p < array.GetNumberOfTuples(); ++p) {
        const double mark = array.GetComponent(p, 0);
        if (mark != 0 && mark != 1) return std::nullopt;
        if (mark == 1) points.push_back(p);
    }
    return points;
}

/// Points of a set that is a field array.
std::vector<vtkIdType> listed_points(vtkDataArray& array, const char* name, vtkIdType count) {
    std::set<vtkIdType> points;  // one named twice counts once
    for (vtkIdType i = 0; i < array.GetNumberOfTuples(); ++i) {
        const double id = array.GetComponent(i, 0);
        if (id < 0 || id >= static_cast<double>(count))
            refuse("field array \"{}\": wanted points 0 to {}, found {}", name, count - 1, id);
        points.insert(static_cast<vtkIdType>(id));
    }
    return {points.begin(), points.end()};
}

/// @param node_of  the node of each point; −1: left out
void add_sets(vtkUnstructuredGrid& grid, const std::vector<int>& node_of, Surface& surface) {
    const auto add = [&](const char* name, const std::vector<vtkIdType>& points) {
        const auto [place, is_new] = surface.sets.try_emplace(name);
        if (!is_new) refuse("wanted one set \"{}\", found it among both point and field arrays", name);
        for (const vtkIdType p : points)
            if (const int node = node_of[static_cast<std::size_t>(p)]; node >= 0)
                place->second.push_back(node);
    };
    const auto for_each_integers = [](vtkFieldData& data, const auto& use) {
        for (int i = 0; i < data.GetNumberOfArrays(); ++i)
            if (vtkDataArray* array = data.GetArray(i); array && array->GetName() && is_of_integers(*array))
                use(*array, array->GetName());
    };
    for_each_integers(*grid.GetPointData(), [&](vtkDataArray& array, const char* name) {
        if (const auto points = marked_points(array)) add(name, *points);
    });
    for_each_integers(*grid.GetFieldData(), [&](vtkDataArray& array, const char* name) {
        add(name, listed_points(array, name, grid.GetNumberOfPoints()));
    });
}

Surface surface_of(vtkUnstructuredGrid& grid) {
    refuse_other_cells(grid);
    const Thickness thickness(grid);
    vtkDataArray* directions = array_of(*grid.GetCellData(), "direction", "cell", 3);
    Surface surface;
    std::vector<int> node_of(static_cast<std::size_t>(grid.GetNumberOfPoints()), -1);
    for (vtkIdType c = 0; c < grid.GetNumberOfCells(); ++c) {
        const std::vector<int> corners = corners_of(grid, c);
        SurfaceCell cell;
        cell.normals.fill(Vec3::Zero());
        cell.thickness = thickness.at(c, corners);
        if (directions) cell.direction = direction_at(*directions, c);
        for (std::size_t i = 0; i < corners.size(); ++i) {
            node_of[static_cast<std::size_t>(corners[i])] = 0;
            cell.corners[i] = corners[i];
        }
        surface.cells.push_back(cell);
    }
    // Nodes keep the order of the file's points.
    for (vtkIdType p = 0; p < grid.GetNumberOfPoints(); ++p) {
        int& node = node_of[static_cast<std::size_t>(p)];
        if (node < 0) continue;
        node = static_cast<int>(surface.nodes.size());
        Vec3 position;
        grid.GetPoint(p, position.data());
        if (!position.allFinite())
            refuse("point {}: wanted a position [mm], found ({}, {}, {})", p, position.x(), position.y(),
                   position.z());
        surface.nodes.push_back({{}, position});
    }
    for (SurfaceCell& cell : surface.cells)
        for (int& corner : cell.corners)
            if (corner >= 0) corner = node_of[static_cast<std::size_t>(corner)];
    add_sets(grid, node_of, surface);
    return surface;
}

}  // namespace

Surface read_vtk_surface(const fs::path& file) try {
    return surface_of(*read_grid(file));
} catch (const std::runtime_error& error) {
    throw std::runtime_error(fmt::format("{}: {}", file.string(), error.what()));
}

}  // namespace limbwright::meshes

void limbwright_read_surface(const std::filesystem::path& file, limbwright::meshes::Surface& surface) {
    surface = limbwright::meshes::read_vtk_surface(file);
}
