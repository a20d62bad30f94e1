# Drawn with no display. The small pictures beside the tests are compared with what is drawn.
eyebrow_tests(scene FLAGS -O1
  SOURCES
    scene/drawing_test.cpp
    scene/drawn.cpp
    scene/label_places_test.cpp
    scene/lit_test.cpp
    scene/nearest_test.cpp
    scene/section_test.cpp
    study/disc_engine.cpp
  USES eyebrow_scene eyebrow_occt fmt::fmt)
target_compile_definitions(test_scene PRIVATE EYEBROW_GOLDENS="${PROJECT_SOURCE_DIR}/tests/scene/goldens")
vtk_module_autoinit(TARGETS test_scene MODULES ${EYEBROW_SCENE_VTK})
