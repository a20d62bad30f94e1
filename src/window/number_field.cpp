#include "window/number_field.hpp"

#include <fmt/format.h>

#include <QLineEdit>
#include <QWheelEvent>
#include <cctype>
#include <cmath>
#include <cstdlib>

#include "window/no_undo.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

/// A number with fewer digits than this can be stepped in double without a trace.
constexpr std::size_t kMostDigits = 15;

}  // namespace

std::optional<std::string> stepped(const std::string& typed, int steps) {
  const std::size_t from = typed.find_first_not_of(' ');
  if (from == std::string::npos) return std::nullopt;
  std::size_t at = from;
  const bool sign = typed[at] == '+' || typed[at] == '-';
  if (sign) ++at;
  const std::size_t whole = at;
  std::size_t decimals = 0, digits = 0;
  bool point = false;
  for (; at < typed.size(); ++at) {
    if (typed[at] == '.' && !point)
      point = true;
    else if (typed[at] >= '0' && typed[at] <= '9')
      ++digits, decimals += point;
    else
      break;
  }
  const std::string rest = typed.substr(at);
  // A fraction, or a power of ten, is no place to guess at.
  if (at == whole || digits == 0 || digits > kMostDigits || rest.starts_with('-') || rest.starts_with('/') ||
      rest.starts_with('e') || rest.starts_with('E'))
    return std::nullopt;
  const double unit = std::pow(10.0, -static_cast<double>(decimals));
  double value = std::strtod(typed.c_str() + from, nullptr) + steps * unit;
  if (std::fabs(value) < unit / 2) value = 0;
  const bool plus = typed[from] == '+' && value >= 0;
  return fmt::format("{}{:.{}f}{}", plus ? "+" : "", value, decimals, rest);
}

bool names_unit(const std::string& typed) {
  // An error behind it may have the only unit: that is the number's too then, or is told as a fault.
  const std::size_t from = typed.find_first_of("0123456789");
  if (from == std::string::npos) return false;
  for (std::size_t i = from; i < typed.size(); ++i) {
    const char c = typed[i];
    const bool power = (c == 'e' || c == 'E') && i + 1 < typed.size() &&
                       std::string("+-0123456789").find(typed[i + 1]) != std::string::npos;
    if (c == '"' || (std::isalpha(static_cast<unsigned char>(c)) && !power)) return true;
  }
  return typed.find("\u00b0") != std::string::npos;
}

NumberField::NumberField(QWidget* parent) : QAbstractSpinBox(parent) {
  setFocusPolicy(Qt::StrongFocus);
  // The keys come to the box, which hands them to its line by a call that no filter of the line sees.
  for (QObject* of : {static_cast<QObject*>(this), static_cast<QObject*>(lineEdit())})
    of->installEventFilter(new NoUndo(this));
  connect(lineEdit(), &QLineEdit::textEdited, this, &NumberField::typed);
  connect(lineEdit(), &QLineEdit::returnPressed, this, &NumberField::left);
}

void NumberField::show_typed(const QString& text) {
  if (lineEdit()->text() == text) return;
  lineEdit()->setText(text);
  if (!hasFocus()) lineEdit()->setCursorPosition(0);
}

void NumberField::stepBy(int steps) {
  const auto next = stepped(plain(lineEdit()->text()), steps);
  if (!next) return;
  lineEdit()->setText(shown(*next));
  selectAll();
  Q_EMIT typed(lineEdit()->text());
}

QSize NumberField::sizeHint() const {
  QSize size = QAbstractSpinBox::sizeHint();
  size.setWidth(fontMetrics().horizontalAdvance("0.000000 in") + 40);
  return size;
}

QSize NumberField::minimumSizeHint() const {
  return {fontMetrics().horizontalAdvance("0.0000") + 30, sizeHint().height()};
}

QAbstractSpinBox::StepEnabled NumberField::stepEnabled() const {
  return stepped(plain(lineEdit()->text()), 1) ? StepUpEnabled | StepDownEnabled : StepEnabled(StepNone);
}

void NumberField::wheelEvent(QWheelEvent* event) {
  // The wheel scrolls the form. A number that changed under it would go unseen.
  if (hasFocus())
    QAbstractSpinBox::wheelEvent(event);
  else
    event->ignore();
}

void NumberField::focusOutEvent(QFocusEvent* event) {
  QAbstractSpinBox::focusOutEvent(event);
  Q_EMIT left();
}

}  // namespace eyebrow::window
