eyebrow_tests(report
  SOURCES
    report/check_csv_test.cpp
    report/check_json_test.cpp
    report/check_text_test.cpp
    report/cylinders_test.cpp
    report/sample.cpp
    report/words_test.cpp
  USES fmt::fmt nlohmann_json::nlohmann_json)
