# Writes one hash of all sources in some folders, and of what they are compiled with, as a C++ source:
#   cmake -D OUTPUT=file.cpp -D ROOT=folder "-DFOLDERS=solver|meshes" "-DCOMPILED=compiler and flags" -P source_hash.cmake
set(text "${COMPILED}")
string(REPLACE "|" ";" folders "${FOLDERS}")
foreach(folder IN LISTS folders)
    file(GLOB_RECURSE sources RELATIVE "${ROOT}" "${ROOT}/${folder}/*.hpp" "${ROOT}/${folder}/*.cpp")
    list(SORT sources)
    foreach(source IN LISTS sources)
        file(SHA256 "${ROOT}/${source}" hash)
        string(APPEND text "\n${source} ${hash}")
    endforeach()
endforeach()
string(SHA256 hash "${text}")
file(WRITE "${OUTPUT}" "#include \"postproc/results/row_store.hpp\"

const std::string_view limbwright::postproc::source_hash = \"${hash}\";
")
