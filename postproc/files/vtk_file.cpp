#include "postproc/files/vtk_file.hpp"

#include <SMP/Common/vtkSMPToolsAPI.h>
#include <fmt/format.h>
#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkDoubleArray.h>
#include <vtkFieldData.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkXMLPolyDataWriter.h>

#include <stdexcept>
#include <string>

#include "postproc/output/atomic_file.hpp"

namespace limbwright::postproc {
namespace {

namespace fs = std::filesystem;

template <class Cells>
void add_cells(vtkCellArray& array, const Cells& cells) {
    for (const auto& cell : cells) {
        array.InsertNextCell(static_cast<int>(cell.size()));
        for (const int point : cell) array.InsertCellPoint(point);
    }
}

/// @param carriers  "points" or "cells", for the message
void add_fields(vtkDataSetAttributes& attributes, const std::vector<Field>& fields, std::size_t count,
                const char* carriers, const std::string& piece) {
    for (const Field& field : fields) {
        if (field.values.size() != count * field.components)
            throw std::invalid_argument(fmt::format("{}: field \"{}\" has {} values for {} {} of {}", piece,
                                                    field.name, field.values.size(), count, carriers,
                                                    field.components));
        vtkNew<vtkDoubleArray> array;
        array->SetName(
            (field.unit.empty() ? field.name : fmt::format("{} [{}]", field.name, field.unit)).c_str());
        array->SetNumberOfComponents(field.components);
        array->SetNumberOfTuples(static_cast<vtkIdType>(count));
        for (std::size_t i = 0; i < field.values.size(); ++i)
            array->SetValue(static_cast<vtkIdType>(i), field.values[i]);
        attributes.AddArray(array);
    }
}

vtkNew<vtkPolyData> poly_data(const Piece& piece) {
    vtkNew<vtkPoints> points;
    points->SetDataTypeToDouble();
    for (const Vec3& p : piece.points) points->InsertNextPoint(p.data());
    vtkNew<vtkCellArray> lines;
    add_cells(*lines, piece.lines);
    vtkNew<vtkCellArray> faces;
    add_cells(*faces, piece.quads);
    add_cells(*faces, piece.triangles);
    vtkNew<vtkPolyData> data;
    data->SetPoints(points);
    data->SetLines(lines);
    data->SetPolys(faces);
    add_fields(*data->GetPointData(), piece.point_fields, piece.points.size(), "points", piece.name);
    // VTK numbers cells in this order too.
    const std::size_t cells = piece.lines.size() + piece.quads.size() + piece.triangles.size();
    add_fields(*data->GetCellData(), piece.cell_fields, cells, "cells", piece.name);
    return data;
}

/// The text of a .vtp file. Left to write its file itself, the writer crashes when the disk is full.
std::string file_text(const Piece& piece, double time) {
    const vtkNew<vtkPolyData> data = poly_data(piece);
    vtkNew<vtkDoubleArray> time_value;
    time_value->SetName("TimeValue");
    time_value->InsertNextValue(time);
    data->GetFieldData()->AddArray(time_value);
    vtkNew<vtkXMLPolyDataWriter> writer;
    writer->SetInputData(data);
    writer->SetDataModeToBinary();
    writer->SetCompressorTypeToZLib();
    writer->WriteToOutputStringOn();
    writer->Write();
    return writer->GetOutputString();
}

std::string xml_escaped(const std::string& text) {
    std::string escaped;
    for (const char c : text) {
        if (c == '&')
            escaped += "&amp;";
        else if (c == '<')
            escaped += "&lt;";
        else if (c == '"')
            escaped += "&quot;";
        else
            escaped += c;
    }
    return escaped;
}

std::string state_name(std::size_t state) {
    return fmt::format("state_{:04}", state);
}

/// `name`.vtm, the index, and the folder `name` with one .vtp file a piece.
void write_scene(const fs::path& folder, const std::string& name, const Scene& scene) {
    fs::create_directory(folder / name);
    std::string index =
        "<?xml version=\"1.0\"?>\n"
        "<VTKFile type=\"vtkMultiBlockDataSet\" version=\"1.0\" byte_order=\"LittleEndian\">\n"
        "  <vtkMultiBlockDataSet>\n";
    for (std::size_t block = 0; block < scene.pieces.size(); ++block) {
        const std::string file = fmt::format("{}/{}_{}.vtp", name, name, block);
        write_text(folder / file, file_text(scene.pieces[block], scene.parameter));
        index += fmt::format("    <DataSet index=\"{}\" name=\"{}\" file=\"{}\"/>\n", block,
                             xml_escaped(scene.pieces[block].name), file);
    }
    write_text(folder / (name + ".vtm"), index + "  </vtkMultiBlockDataSet>\n</VTKFile>\n");
}

std::string collection(const std::string& folder, std::span<const Scene> scenes) {
    std::string text =
        "<?xml version=\"1.0\"?>\n"
        "<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
        "  <Collection>\n";
    for (std::size_t state = 0; state < scenes.size(); ++state)
        text += fmt::format("    <DataSet timestep=\"{}\" part=\"0\" file=\"{}/{}.vtm\"/>\n",
                            scenes[state].parameter, xml_escaped(folder), state_name(state));
    return text + "  </Collection>\n</VTKFile>\n";
}

}  // namespace

void write_vtk(const fs::path& pvd, std::span<const Scene> scenes) {
    if (pvd.extension() != ".pvd")
        throw std::invalid_argument(fmt::format("{} does not end in .pvd", pvd.string()));
    const fs::path folder = pvd.parent_path() / (pvd.stem().string() + "_states");
    if (fs::is_directory(folder) && !fs::is_empty(folder) && !fs::exists(folder / (state_name(0) + ".vtm")))
        throw std::runtime_error(
            fmt::format("cannot write {}: the folder exists and holds other things", folder.string()));
    // VTK would start its thread pool for the range of every one of some ten thousand small arrays: half of
    // the time. The class behind vtkSMPTools, since the header of that one does not compile as C++20.
    vtk::detail::smp::vtkSMPToolsAPI::GetInstance().SetBackend("Sequential");
    // The collection is written last but for the swap of the folder, and renamed right after it.
    write_whole_file(pvd, [&](const fs::path& temporary) {
        write_text(temporary, collection(folder.filename().string(), scenes));
        write_whole_folder(folder, [&](const fs::path& inside) {
            for (std::size_t state = 0; state < scenes.size(); ++state)
                write_scene(inside, state_name(state), scenes[state]);
        });
    });
}

}  // namespace limbwright::postproc
