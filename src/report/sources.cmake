eyebrow_module(report
  SOURCES report/words.cpp
  USES fmt::fmt nlohmann_json::nlohmann_json)
