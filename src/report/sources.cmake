eyebrow_module(report
  SOURCES
    report/asked.cpp
    report/check_csv.cpp
    report/check_json.cpp
    report/check_text.cpp
    report/cylinders_text.cpp
    report/lines.cpp
    report/map_csv.cpp
    report/map_json.cpp
    report/map_text.cpp
    report/verdict_text.cpp
    report/words.cpp
  USES fmt::fmt nlohmann_json::nlohmann_json)
