eyebrow_module(study
  SOURCES
    study/allowed.cpp study/asked.cpp study/bore.cpp study/card_range.cpp study/check.cpp study/clock.cpp study/course.cpp
    study/cylinders.cpp study/distinct.cpp study/drop_table.cpp study/effects.cpp study/field_least.cpp study/free_least.cpp
    study/interference.cpp study/judge.cpp study/map.cpp study/map_fields.cpp study/map_others.cpp study/minima.cpp study/other_lash.cpp
    study/pairs.cpp study/path.cpp study/piston_gap.cpp study/place.cpp study/possible.cpp study/positions.cpp study/refine.cpp study/reserve.cpp study/running.cpp study/running_others.cpp study/setup.cpp study/stack.cpp
    study/stack_branches.cpp study/stack_draw.cpp study/stack_engines.cpp study/stack_fit.cpp study/stack_sample.cpp study/stack_share.cpp study/stack_surface.cpp
    study/stack_worst.cpp study/sweep.cpp
    study/tooth_out.cpp
  USES TBB::tbb fmt::fmt Boost::headers Eigen3::Eigen)
