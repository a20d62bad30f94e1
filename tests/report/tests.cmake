eyebrow_tests(report SHARDS 2 FLAGS -O0
  SOURCES
    report/check_csv_test.cpp
    report/check_json_test.cpp
    report/check_text_test.cpp
    report/compare_test.cpp
    report/cylinders_test.cpp
    report/plot_axis_test.cpp
    report/plot_contour_test.cpp
    report/plot_counts_test.cpp
    report/plot_curves_test.cpp
    report/plot_file_test.cpp
    report/plot_map_test.cpp
    report/pocket_test.cpp
    report/remedies_text_test.cpp
    report/sample.cpp
    report/untimed_test.cpp
    report/stack_test.cpp
    report/words_test.cpp
  USES fmt::fmt nlohmann_json::nlohmann_json)
