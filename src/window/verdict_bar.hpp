// The verdict with what it stands under, always in sight.
#pragma once
#include <QFrame>

#include "eyebrow/report.hpp"
#include "window/shown_result.hpp"

class QLabel;

namespace eyebrow::window {

class VerdictBar : public QFrame {
  Q_OBJECT

 public:
  explicit VerdictBar(QWidget* parent = nullptr);
  /// `all`: of every measured cylinder; null where there are none.
  void show_result(const ShownResult& shown, const Format& format, const CylindersResult* all);
  /// The input, or the machine, gives no answer.
  void show_trouble(const QString& word, const QString& sentence);
  /// Of another engine it may be lower.
  void forget();
  QString word() const;
  QString sentence() const;
  QString conditions() const;
  QString caution() const;

 protected:
  void resizeEvent(QResizeEvent* event) override;

 private:
  enum class Keep { nothing, height };
  void fit(Keep keep);
  void paint(const char* ground, const QString& word);

  QLabel *word_, *sentence_, *conditions_, *caution_;
};

}  // namespace eyebrow::window
