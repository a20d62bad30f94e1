// The asked gaps beside what was found, as `check` prints them; a row leads to its place on the cycle.
#pragma once
#include <QTableWidget>

#include "eyebrow/report.hpp"
#include "window/shown_result.hpp"

namespace eyebrow::window {

class ResultTable : public QTableWidget {
  Q_OBJECT

 public:
  explicit ResultTable(QWidget* parent = nullptr);
  void show_result(const ShownResult& shown, const Format& format);
  /// All cells in sight, with tabs between them.
  QString copied() const;
  enum Column { what, found, up_to, asked, margin, holds, crank, lift, entry, where, columns };

 Q_SIGNALS:
  void chosen(int row);  ///< a row of CheckResult::asked, by mouse or keyboard

 private:
  void fit_columns(const ShownResult& shown, bool any_open);
  bool fitted_ = false;  ///< to what a check found

 protected:
  void keyPressEvent(QKeyEvent* event) override;
};

}  // namespace eyebrow::window
