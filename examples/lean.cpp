// Loads a bow, draws it and prints cam lean against draw.
//
//     lean examples/crossed.toml

#include <cstdio>

#include "models/bow/bow_file.hpp"
#include "models/states/measures.hpp"

using namespace limbwright::models;

int main(int argument_count, char** arguments) {
    if (argument_count != 2) return std::fprintf(stderr, "usage: lean BOW_FILE\n"), 2;
    try {
        const AssembledBow assembled = assemble(read_bow(arguments[1]));
        const Stringing stringing = string_up(assembled);
        if (const auto* lost = std::get_if<NotStrung>(&stringing))
            return std::fprintf(stderr, "%s\n", lost->reason.c_str()), 1;

        const StrungBow& strung = std::get<StrungBow>(stringing);
        const Draw drawn = draw(strung);
        for (const Measure& measure : state_measures(strung.bow))
            if (measure.id == "draw" || measure.id.starts_with("lean_")) {
                const std::vector<std::vector<double>> table = values({measure}, strung.bow, drawn);
                std::printf("%s [%s]", measure.name.c_str(), measure.unit.c_str());
                for (const double value : table[0]) std::printf(" %.3f", value);
                std::printf("\n");
            }
        return drawn.failure ? 1 : 0;
    } catch (const std::exception& error) {
        return std::fprintf(stderr, "%s\n", error.what()), 2;
    }
}
