# What both programs are made of: `eyebrow`, and `eyebrow-view`, which alone links the 3-D library and Qt and is started
# by it.
# So `eyebrow` starts as fast as it does, and runs where there is nothing to draw with.
add_library(eyebrow_cli OBJECT
  # These nine read the command line: one batch, so that the library for it is compiled once.
  cli/check_options.cpp
  cli/compare_options.cpp
  cli/map_options.cpp
  cli/options.cpp
  cli/picture_options.cpp
  cli/pocket_options.cpp
  cli/short_options.cpp
  cli/stack_options.cpp
  cli/verb.cpp
  cli/check_command.cpp
  cli/check_engines.cpp
  cli/compare_command.cpp
  cli/effects_told.cpp
  cli/export_command.cpp
  cli/faces_command.cpp
  cli/film.cpp
  cli/gap_names.cpp
  cli/interrupt.cpp
  cli/main.cpp
  cli/map_command.cpp
  cli/messages.cpp
  cli/named_leasts.cpp
  cli/new_command.cpp
  cli/output_file.cpp
  cli/outputs.cpp
  cli/pocket_command.cpp
  cli/progress.cpp
  cli/remedies_told.cpp
  cli/stack_command.cpp
  cli/tolerances_given.cpp
  cli/untimed_command.cpp
  cli/values.cpp
  cli/vary.cpp)
set_target_properties(eyebrow_cli PROPERTIES UNITY_BUILD_BATCH_SIZE 9)
target_compile_definitions(eyebrow_cli PRIVATE EYEBROW_VERSION="${PROJECT_VERSION}")
target_include_directories(eyebrow_cli PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(eyebrow_cli PRIVATE eyebrow_flags eyebrow CLI11::CLI11 fmt::fmt)

add_executable(eyebrow_program cli/second_program.cpp $<TARGET_OBJECTS:eyebrow_cli>)
set_target_properties(eyebrow_program PROPERTIES OUTPUT_NAME eyebrow)
target_include_directories(eyebrow_program PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(eyebrow_program PRIVATE eyebrow_flags eyebrow fmt::fmt)

add_executable(eyebrow_view cli/picture_command.cpp cli/section_given.cpp cli/view_command.cpp $<TARGET_OBJECTS:eyebrow_cli>)
set_target_properties(eyebrow_view PROPERTIES OUTPUT_NAME eyebrow-view)
target_include_directories(eyebrow_view PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(eyebrow_view PRIVATE eyebrow_flags eyebrow_scene eyebrow_window fmt::fmt)
vtk_module_autoinit(TARGETS eyebrow_view MODULES ${EYEBROW_SCENE_VTK})
