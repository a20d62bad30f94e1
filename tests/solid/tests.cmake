eyebrow_tests(solid SHARDS 6 FLAGS -O1
  SOURCES
    solid/bad_parts_test.cpp
    solid/bore_test.cpp
    solid/compression_test.cpp
    solid/crown_left_test.cpp
    solid/crown_mesh_test.cpp
    solid/crown_names_test.cpp
    solid/crown_volume_test.cpp
    solid/delaunay_test.cpp
    solid/face_area_test.cpp
    solid/mouth_break_test.cpp
    solid/overlap_test.cpp
    solid/random_crown_test.cpp
    solid/same_parts_test.cpp
    solid/step_crown_test.cpp
    solid/step_out_test.cpp
    solid/step_mended_test.cpp
    solid/step_refused_test.cpp
    solid/step_test.cpp
    solid/step_valve_test.cpp
    solid/tool_test.cpp
    solid/valve_profile_test.cpp
  USES eyebrow_occt
  TIMEOUT 900)
