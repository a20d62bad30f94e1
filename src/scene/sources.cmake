# The 3-D scene. A library of its own, so that `eyebrow` itself links no VTK.
add_library(eyebrow_scene STATIC
  scene/around_bore.cpp
  scene/captions.cpp
  scene/crown_distances.cpp
  scene/eye.cpp
  scene/finer.cpp
  scene/gl_window.cpp
  scene/label_places.cpp
  scene/lit_gaps.cpp
  scene/lit_kind.cpp
  scene/nearest_gaps.cpp
  scene/overlay.cpp
  scene/palette.cpp
  scene/part_view.cpp
  scene/polydata.cpp
  scene/scene.cpp
  scene/section_cut.cpp
  scene/section_dimensions.cpp
  scene/sight.cpp
  scene/view.cpp
  scene/written.cpp
  scene/x_server.cpp)
# X11's headers define words like None and Status. EGL's need not bring them in.
set_source_files_properties(scene/x_server.cpp PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
set_source_files_properties(scene/gl_window.cpp PROPERTIES COMPILE_DEFINITIONS EGL_NO_X11)
target_include_directories(eyebrow_scene PUBLIC ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(eyebrow_scene
  PRIVATE eyebrow_flags fmt::fmt OpenGL::EGL OpenGL::GLX X11::X11
  PUBLIC eyebrow ${EYEBROW_SCENE_VTK})
vtk_module_autoinit(TARGETS eyebrow_scene MODULES ${EYEBROW_SCENE_VTK})
