# The window on a display of its own.
find_program(EYEBROW_XVFB_RUN xvfb-run REQUIRED)
find_package(Qt5 REQUIRED COMPONENTS Test Widgets)
add_executable(test_window window/main.cpp window/exports_test.cpp window/number_field_test.cpp
  window/other_engines_test.cpp window/view_choices_test.cpp window/window_test.cpp)
target_include_directories(test_window PRIVATE ${PROJECT_SOURCE_DIR}/src ${PROJECT_SOURCE_DIR}/tests)
target_compile_definitions(test_window PRIVATE EYEBROW_MODELS="${PROJECT_SOURCE_DIR}/models"
  EYEBROW_SCREENSHOTS="${CMAKE_CURRENT_BINARY_DIR}/screenshots")
target_link_libraries(test_window PRIVATE eyebrow_flags eyebrow_window GTest::gtest GTest::gmock Qt5::Test)
add_test(NAME window COMMAND ${EYEBROW_XVFB_RUN} -a -s "-screen 0 1366x768x24" $<TARGET_FILE:test_window>)
set_tests_properties(window PROPERTIES TIMEOUT 1500 COST 1000 LABELS window)  # the longest begins first
if(EYEBROW_SANITIZE)
  # What drivers and toolkit keep to the end is not ours.
  set_tests_properties(window PROPERTIES ENVIRONMENT "ASAN_OPTIONS=detect_leaks=0")
endif()
