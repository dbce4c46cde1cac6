#include "models/input/input_error.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace limbwright::models {
namespace {

std::string sentences(const std::vector<Complaint>& complaints) {
    std::string text;
    for (const Complaint& complaint : complaints) {
        if (!text.empty()) text += '\n';
        text += sentence(complaint);
    }
    return text;
}

bool holds(std::string_view part, std::string_view key) {
    return !part.empty() && key.starts_with(part) &&
           (key.size() == part.size() || key[part.size()] == '.' || key[part.size()] == '[');
}

}  // namespace

std::string sentence(const Complaint& complaint) {
    std::string text = complaint.place.file;
    if (complaint.place.line > 0) text += fmt::format(":{}", complaint.place.line);
    if (complaint.place.column > 0) text += fmt::format(":{}", complaint.place.column);
    if (!text.empty()) text += ": ";
    if (!complaint.key.empty()) text += complaint.key + ' ';
    text += complaint.wanted;
    if (!complaint.found.empty()) text += ", but is " + complaint.found;
    return text;
}

InputError::InputError(std::vector<Complaint> complaints)
    : std::runtime_error(sentences(complaints)), complaints_(std::move(complaints)) {}

void Complaints::add(std::string key, std::string wanted, std::string found) {
    Place place = locate_(key);
    add_at(std::move(place), std::move(key), std::move(wanted), std::move(found));
}

void Complaints::add_at(Place place, std::string key, std::string wanted, std::string found) {
    complaints_.push_back({std::move(place), std::move(key), std::move(wanted), std::move(found)});
}

bool Complaints::about(std::string_view key) const {
    return std::ranges::any_of(silenced_, [&](const std::string& part) { return holds(part, key); }) ||
           std::ranges::any_of(complaints_, [&](const Complaint& c) { return holds(c.key, key); });
}

void Complaints::finish() const {
    if (complaints_.empty()) return;
    std::vector<Complaint> sorted = complaints_;
    const std::string own_file = locate_("").file;
    std::ranges::stable_sort(sorted, {}, [&](const Complaint& c) {
        return std::tuple(c.place.file != own_file, c.place.file, c.place.line, c.place.column);
    });
    throw InputError(std::move(sorted));
}

}  // namespace limbwright::models
