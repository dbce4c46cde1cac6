#pragma once

#include <functional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// Mistakes in what a person wrote: gathered, told where they stand, and thrown all at once.
namespace limbwright::models {

/// A place in a file, both counted from one; zero where it is not known.
struct Place {
    std::string file;
    int line = 0;
    int column = 0;
};

/// One mistake, as a sentence in parts: `key` `wanted`, but is `found`.
struct Complaint {
    Place place;
    std::string key;     ///< dotted, as in "limb.stations[1].width"; may be empty
    std::string wanted;  ///< a whole predicate: "must lie between 10 mm and 80 mm"
    std::string found;   ///< empty where `wanted` says it all: "is missing"
};

/// "first_bow.toml:9:13: limb.width must lie between 10 mm and 80 mm, but is 4.5 mm"
[[nodiscard]] std::string sentence(const Complaint& complaint);

/// The input is wrong. `what()` holds one line per complaint.
class InputError : public std::runtime_error {
public:
    explicit InputError(std::vector<Complaint> complaints);
    [[nodiscard]] const std::vector<Complaint>& complaints() const { return complaints_; }

private:
    std::vector<Complaint> complaints_;
};

/// Gathers complaints while a file is read.
class Complaints {
public:
    /// Where a key stands in the file; for a key that is not there, where it ought to.
    using Locate = std::function<Place(std::string_view key)>;

    explicit Complaints(Locate locate) : locate_(std::move(locate)) {}

    /// About a key of the file.
    void add(std::string key, std::string wanted, std::string found = {});

    /// About another place, such as a line of a file beside it.
    void add_at(Place place, std::string key, std::string wanted, std::string found = {});

    /// From now on `about` is true of the part: another part stands for it.
    void silence(std::string part) { silenced_.push_back(std::move(part)); }

    /// True if there is a complaint about the key or about a part of the file that holds it: whoever checks
    /// further may then stay silent.
    [[nodiscard]] bool about(std::string_view key) const;

    [[nodiscard]] const std::vector<Complaint>& all() const { return complaints_; }

    /// Throws InputError with every complaint, in the order of the file's lines; nothing if there is none.
    void finish() const;

private:
    Locate locate_;
    std::vector<Complaint> complaints_;
    std::vector<std::string> silenced_;
};

}  // namespace limbwright::models
