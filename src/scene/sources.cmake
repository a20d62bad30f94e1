# The 3-D scene. A library of its own, so that `eyebrow` itself links no VTK.
find_package(VTK REQUIRED COMPONENTS CommonCore CommonDataModel CommonExecutionModel CommonTransforms FiltersCore
  FiltersGeneral FiltersSources RenderingCore RenderingOpenGL2 RenderingFreeType RenderingAnnotation IOImage)
add_library(eyebrow_scene STATIC
  scene/scene.cpp
  scene/view.cpp)
target_include_directories(eyebrow_scene PUBLIC ${CMAKE_CURRENT_SOURCE_DIR})
target_link_libraries(eyebrow_scene PRIVATE eyebrow_flags fmt::fmt PUBLIC eyebrow ${VTK_LIBRARIES})
vtk_module_autoinit(TARGETS eyebrow_scene MODULES ${VTK_LIBRARIES})
