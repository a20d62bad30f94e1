#include "window/no_undo.hpp"

#include <QKeyEvent>

namespace eyebrow::window {

bool NoUndo::eventFilter(QObject* of, QEvent* event) {
  if (event->type() == QEvent::ShortcutOverride || event->type() == QEvent::KeyPress) {
    const auto* key = static_cast<QKeyEvent*>(event);
    if (key->matches(QKeySequence::Undo) || key->matches(QKeySequence::Redo)) {
      event->ignore();
      return true;
    }
  }
  return QObject::eventFilter(of, event);
}

}  // namespace eyebrow::window
