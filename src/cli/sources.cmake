add_executable(eyebrow_program
  cli/check_command.cpp
  cli/check_engines.cpp
  cli/compare_command.cpp
  cli/effects_told.cpp
  cli/export_command.cpp
  cli/faces_command.cpp
  cli/gap_names.cpp
  cli/interrupt.cpp
  cli/main.cpp
  cli/map_command.cpp
  cli/messages.cpp
  cli/new_command.cpp
  cli/options.cpp
  cli/output_file.cpp
  cli/outputs.cpp
  cli/progress.cpp
  cli/remedies_told.cpp
  cli/untimed_command.cpp
  cli/stack_command.cpp
  cli/values.cpp
  cli/vary.cpp)
set_target_properties(eyebrow_program PROPERTIES OUTPUT_NAME eyebrow)
target_compile_definitions(eyebrow_program PRIVATE EYEBROW_VERSION="${PROJECT_VERSION}")
target_include_directories(eyebrow_program PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(eyebrow_program PRIVATE eyebrow_flags eyebrow CLI11::CLI11 fmt::fmt)
