add_executable(eyebrow_program
  cli/main.cpp)
set_target_properties(eyebrow_program PROPERTIES OUTPUT_NAME eyebrow)
target_include_directories(eyebrow_program PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(eyebrow_program PRIVATE eyebrow_flags eyebrow CLI11::CLI11 fmt::fmt)
