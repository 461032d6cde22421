# Writes a C++ file with text files as string constants; run by cmake -P at build time.
#   OUTPUT=file.cpp  NAMES="a;b"  INPUTS="a.json;b.json"  (same order)
set(code "// Generated from the definitions under calibration/cards.\nnamespace scantling {\n")
foreach(name input IN ZIP_LISTS NAMES INPUTS)
  file(READ "${input}" text)
  string(APPEND code "extern const char* const ${name};\n"
    "const char* const ${name} = R\"scantling(${text})scantling\";\n")
endforeach()
string(APPEND code "}  // namespace scantling\n")
file(WRITE "${OUTPUT}" "${code}")
