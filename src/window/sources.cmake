# The desktop window. A library of its own, so that `eyebrow` itself links no Qt.
add_library(eyebrow_window STATIC
  window/checker.cpp
  window/consequences.cpp
  window/cursor.cpp
  window/document.cpp
  window/exports.cpp
  window/form_group.cpp
  window/form_row.cpp
  window/form_words.cpp
  window/gap_plot.cpp
  window/influence_table.cpp
  window/least_colors.cpp
  window/main_window.cpp
  window/main_window_actions.cpp
  window/no_undo.cpp
  window/number_field.cpp
  window/number_form.cpp
  window/remedy_table.cpp
  window/reserve_table.cpp
  window/result_table.cpp
  window/result_tabs.cpp
  window/run_window.cpp
  window/scene_picture.cpp
  window/scene_view.cpp
  window/shown_result.cpp
  window/verdict_bar.cpp)
set_target_properties(eyebrow_window PROPERTIES AUTOMOC ON)
target_compile_definitions(eyebrow_window PUBLIC QT_NO_KEYWORDS PRIVATE EYEBROW_VERSION="${PROJECT_VERSION}")
target_include_directories(eyebrow_window PUBLIC ${CMAKE_CURRENT_SOURCE_DIR} PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/report)
target_link_libraries(eyebrow_window PRIVATE eyebrow_flags fmt::fmt
  PUBLIC eyebrow eyebrow_scene Qt5::Widgets ${EYEBROW_WINDOW_VTK})
vtk_module_autoinit(TARGETS eyebrow_window MODULES ${EYEBROW_WINDOW_VTK})
