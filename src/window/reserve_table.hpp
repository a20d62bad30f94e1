// How far each cam may move, as `check` prints it.
#pragma once
#include <QTableWidget>

#include "eyebrow/check.hpp"

namespace eyebrow::window {

class ReserveTable : public QTableWidget {
  Q_OBJECT

 public:
  explicit ReserveTable(QWidget* parent = nullptr);
  void show_reserves(const std::vector<Reserve>& reserves);
  enum Column { cam, until, earlier, earlier_gap, later, later_gap, columns };
};

}  // namespace eyebrow::window
