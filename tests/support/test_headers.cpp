// Holds nothing: the target around it precompiles the headers that most test files include (tests/CMakeLists.txt).
