// A field for one number of the engine file, as typed: any unit, a reading error behind it, even what is wrong.
#pragma once
#include <QAbstractSpinBox>
#include <optional>
#include <string>

namespace eyebrow::window {

/// What stepping makes of a number as typed: its last digit counts ("0.041 in" up: "0.042 in"). Nothing where the text
/// does not begin with a plain number ("3-3/4 in").
std::optional<std::string> stepped(const std::string& typed, int steps);

/// Does a number as typed have its unit, or its side ("29 BTDC"), in the text?
bool names_unit(const std::string& typed);

class NumberField : public QAbstractSpinBox {
  Q_OBJECT

 public:
  explicit NumberField(QWidget* parent = nullptr);
  /// From outside: tells nothing, and leaves what is being typed alone when it says the same.
  void show_typed(const QString& text);
  void stepBy(int steps) override;
  QSize sizeHint() const override;
  QSize minimumSizeHint() const override;

 Q_SIGNALS:
  void typed(const QString& text);
  void left();  ///< the keyboard has gone elsewhere, or Return was pressed

 protected:
  StepEnabled stepEnabled() const override;
  void wheelEvent(QWheelEvent* event) override;
  void focusOutEvent(QFocusEvent* event) override;
};

}  // namespace eyebrow::window
