#pragma once

#include <map>
#include <memory>
#include <mutex>

#include "models/bow/settings.hpp"
#include "models/parts/assembled_bow.hpp"

namespace limbwright::models {

/// A bow in many layouts, each put together from parts that are built once: a limb by its number and bolt, an
/// axle by its spacers, cables by the guide and the yoke's twists. Topology, handles and plan are the first
/// bow's.
///
/// A part never depends on the order in which layouts are asked for: it is built in today's layout with its
/// own settings changed. May be shared between threads.
class Rebuilds {
public:
    /// @param today  the bow in today's layout
    explicit Rebuilds(const AssembledBow& today);

    /// Turns a copy of today's bow, whatever layout it is in now, into the layout's, as `assemble` makes it:
    /// natural lengths and stops still as in a bow that was never strung.
    void refit(AssembledBow& bow, const Layout& layout) const;

private:
    /// Parts that are built anew for the same settings.
    struct Group {
        std::vector<std::size_t> elements;
        std::vector<Setting> settings;
        std::function<void(AssembledBow& to, const AssembledBow& from)>
            fit;  ///< handles with numbers in them
        mutable std::map<std::vector<double>, std::shared_ptr<const AssembledBow>>
            built{};  ///< by the settings' values
    };

    [[nodiscard]] Group group_of(unsigned parts) const;
    void add_limbs(End end);
    void add_axle(End end);
    void add_cables();
    [[nodiscard]] std::shared_ptr<const AssembledBow> built(const Group& group, const Layout& layout) const;

    AssembledBow today_;
    std::vector<Group> groups_;
    mutable std::mutex mutex_;
};

}  // namespace limbwright::models
