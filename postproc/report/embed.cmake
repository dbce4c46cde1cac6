# Writes files as texts of a C++ source:
#   cmake -D OUTPUT=file.cpp "-DPARTS=style=a.css|script=b.js" -P embed.cmake
# A string literal must not be longer than 64 kB by the standard, but GCC and Clang take any length.
set(source "#include \"postproc/report/report_parts.hpp\"\n\nnamespace limbwright::postproc::report_parts {\n")
string(REPLACE "|" ";" parts "${PARTS}")
foreach(part IN LISTS parts)
    string(REGEX MATCH "^([^=]+)=(.+)$" matched "${part}")
    set(name "${CMAKE_MATCH_1}")
    file(READ "${CMAKE_MATCH_2}" text)
    string(APPEND source "\nconst std::string_view ${name} = R\"embedded(${text})embedded\";\n")
endforeach()
file(WRITE "${OUTPUT}" "${source}\n}  // namespace limbwright::postproc::report_parts\n")
