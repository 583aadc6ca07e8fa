# What every target of this project has in common, in one place.
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
set(CMAKE_LINK_DEPENDS_NO_SHARED ON)

if(NOT CMAKE_BUILD_TYPE)
  set(CMAKE_BUILD_TYPE Release CACHE STRING "" FORCE)
endif()

add_library(canewise_compile INTERFACE)
target_compile_features(canewise_compile INTERFACE cxx_std_20)
target_compile_options(
  canewise_compile
  INTERFACE -Wall -Wextra -Wshadow -Wconversion -Wpedantic -Werror -fno-math-errno
            # GCC 12 reports these two in its own headers (GCC bugs 105651 and 105562).
            "$<$<CXX_COMPILER_ID:GNU>:-Wno-maybe-uninitialized;-Wno-restrict>")
target_include_directories(canewise_compile INTERFACE ${PROJECT_SOURCE_DIR})
# --as-needed: a library that only an unused part asks for costs no start-up time.
target_link_options(canewise_compile INTERFACE -Wl,--as-needed)
if(CANEWISE_SANITIZE)
  target_compile_options(canewise_compile INTERFACE -fsanitize=${CANEWISE_SANITIZE} -fno-sanitize-recover=all
                                                    -fno-omit-frame-pointer)
  target_link_options(canewise_compile INTERFACE -fsanitize=${CANEWISE_SANITIZE})
endif()

# canewise_library(core SOURCES a.cpp PUBLIC other PRIVATE third): one module.
function(canewise_library module)
  cmake_parse_arguments(ARG "" "" "SOURCES;PUBLIC;PRIVATE" ${ARGN})
  add_library(canewise_${module} STATIC ${ARG_SOURCES})
  target_link_libraries(
    canewise_${module}
    PUBLIC canewise_compile ${ARG_PUBLIC}
    PRIVATE ${ARG_PRIVATE})
endfunction()
