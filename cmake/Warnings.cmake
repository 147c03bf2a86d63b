# Our own code compiles without a warning; headers of libraries are system headers and are not judged.
add_library(plumbline_warnings INTERFACE)
target_compile_options(plumbline_warnings INTERFACE
    $<$<CXX_COMPILER_ID:GNU,Clang,AppleClang>:-Wall -Wextra -Wconversion -Wshadow -Werror>
    $<$<CXX_COMPILER_ID:GNU>:-Wno-restrict> # GCC 12 sees overlaps in std::string that are not there (GCC bug 105651)
    $<$<CXX_COMPILER_ID:MSVC>:/W4 /WX>)
