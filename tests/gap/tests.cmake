eyebrow_tests(gap SOURCES
  gap/closed_form_test.cpp
  LABELS threads)
