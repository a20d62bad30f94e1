// What so much more of each number adds to the least gaps, as `check --explain` prints it.
#pragma once
#include <QTableWidget>

#include "eyebrow/effects_report.hpp"

namespace eyebrow::window {

class InfluenceTable : public QTableWidget {
  Q_OBJECT

 public:
  explicit InfluenceTable(QWidget* parent = nullptr);
  void show_influence(const EffectsTold& told, const Format& format);

 Q_SIGNALS:
  void key_chosen(const std::string& key);  ///< by a double click or Return

 protected:
  void keyPressEvent(QKeyEvent* event) override;

 private:
  void tell(int row);
};

}  // namespace eyebrow::window
