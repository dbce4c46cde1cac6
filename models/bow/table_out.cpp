#include "models/bow/table_out.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace limbwright::models {

void TableOut::put(const Key& key, const std::string& value) {
    if (page_)
        page_->key(key.name, value, key.comment);
    else
        items_.push_back(fmt::format("{} = {}", key.name, value));
}

std::string TableOut::in_braces() const {
    return fmt::format("{{ {} }}", fmt::join(items_, ", "));
}

void TableOut::quantity(const Key& key, double& value, const Dimension& dimension, Range range) {
    if (key.needed || range.contains(value)) put(key, quantity_text(value, dimension));
}

void TableOut::quantity(const Key& key, std::optional<double>& value, const Dimension& dimension, Range) {
    if (value) put(key, quantity_text(*value, dimension));
}

void TableOut::quantities(const Key& key, std::vector<double>& values, const Dimension& dimension, Range) {
    if (!key.needed && values.empty()) return;
    std::vector<std::string> texts;
    for (const double value : values) texts.push_back(quantity_text(value, dimension));
    put(key, fmt::format("[{}]", fmt::join(texts, ", ")));
}

void TableOut::number(const Key& key, double& value, Range range) {
    if (key.needed || range.contains(value)) put(key, number_text(value));
}

void TableOut::number(const Key& key, std::optional<double>& value, Range) {
    if (value) put(key, number_text(*value));
}

void TableOut::numbers(const Key& key, std::array<double, 2>& values) {
    put(key, fmt::format("[{}, {}]", number_text(values[0]), number_text(values[1])));
}

void TableOut::whole_number(const Key& key, int& value, int, int) {
    put(key, std::to_string(value));
}

void TableOut::point(const Key& key, Vec2& p, Range) {
    put(key, lengths_text({p.x(), p.y()}));
}

void TableOut::point(const Key& key, Vec3& p, Range) {
    put(key, lengths_text({p.x(), p.y(), p.z()}));
}

void TableOut::text(const Key& key, std::string& value) {
    if (key.needed || !value.empty()) put(key, quoted_text(value));
}

void TableOut::file(const Key& key, std::optional<Track::Traced>& groove) {
    if (groove) put(key, quoted_text(groove->file));
}

void TableOut::file(const Key& key, std::optional<Track::Support>& groove) {
    if (groove) put(key, quoted_text(groove->file));
}

void TableOut::file(const Key& key, std::optional<PartMesh>& mesh, PartModel) {
    if (mesh) put(key, quoted_text(mesh->file));
}

void TableOut::table(const Key& key, Form form, const std::function<void(PartTable&)>& describe) {
    if (!key.given) return;
    const std::string path = joined(path_, key_text(key.name));
    TableOut inner(form == Form::line ? nullptr : page_, path);
    if (form == Form::section) page_->heading(path, key.comment);
    describe(inner);
    if (form == Form::line) put(key, inner.in_braces());
}

void TableOut::left_out(std::string_view, std::string_view text) {
    note(text);
}

void TableOut::note(std::string_view lines) {
    if (!page_->text().empty()) page_->line("");
    for (std::size_t end; !lines.empty(); lines.remove_prefix(std::min(end + 1, lines.size()))) {
        end = std::min(lines.find('\n'), lines.size());
        page_->line("", lines.substr(0, end));
    }
}

void TableOut::choose(const Key& key, std::size_t& index, const std::vector<std::string_view>& names) {
    put(key, quoted_text(names[index]));
}

void TableOut::list(const Key& key, std::size_t size, const std::function<void(std::size_t)>&,
                    const std::function<void(PartTable&, std::size_t)>& row) {
    if (!key.needed && size == 0) return;
    page_->line(fmt::format("{} = [", key.name), key.comment);
    for (std::size_t i = 0; i < size; ++i) {
        TableOut item(nullptr, {});
        row(item, i);
        page_->line(fmt::format("    {},", item.in_braces()));
    }
    page_->line("]");
}

}  // namespace limbwright::models
