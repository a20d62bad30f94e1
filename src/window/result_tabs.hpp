// What a check found, a tab each: its rows, how far cams may move, what would restore short gaps, what each number
// does.
#pragma once
#include <QTabWidget>
#include <memory>
#include <optional>

#include "window/checker.hpp"
#include "window/consequences.hpp"

class QLabel;
class QPushButton;

namespace eyebrow::window {

class InfluenceTable;
class RemedyTable;
class ReserveTable;
class ResultTable;

class ResultTabs : public QTabWidget {
  Q_OBJECT

 public:
  explicit ResultTabs(QWidget* parent = nullptr);
  enum Tab { kGaps, kReserve, kRemedies, kInfluence };
  ResultTable* gaps() const { return gaps_; }

  /// Of the newest numbers. What takes long is looked for when its tab is in sight.
  void take(const Checked& checked, const Consequences::Source& source, const Format& format);
  /// There are newer numbers: what is shown is greyed, and what is at work given up.
  void forget();
  void show_units(const Format& format);
  bool busy() const { return consequences_.busy(); }
  /// Leaves what is at work; its tab begins it anew when it is opened again.
  void give_up();
  QString said(Tab tab) const;  ///< above its table

 Q_SIGNALS:
  void busy_changed(bool busy);
  /// To be put into the file.
  void value_wanted(const std::string& key, const std::string& typed);
  void key_chosen(const std::string& key);

 private:
  QWidget* page(QTableWidget* table, QLabel*& said, QWidget* below);
  void look_for();
  void show_all();
  void say(Tab tab, const QString& text);
  void put_chosen();

  ResultTable* gaps_;
  ReserveTable* reserve_;
  RemedyTable* remedies_;
  InfluenceTable* influence_;
  QLabel *said_[kInfluence + 1] = {}, *caution_;
  QPushButton* put_;
  Consequences consequences_;
  Format format_;
  Consequences::Source source_;
  std::shared_ptr<const CheckResult> result_;  ///< null: of older numbers
  bool cylinders_ = false;                     ///< measured one by one
  std::optional<std::vector<GapRemedies>> found_remedies_;
  std::optional<EffectsTold> found_influence_;
};

}  // namespace eyebrow::window
