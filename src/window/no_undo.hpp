// Undo is the document's: a field that undid by itself would be a second history beside it.
#pragma once
#include <QObject>

namespace eyebrow::window {

/// Installed on a field, leaves its keys for undo and redo to the window.
class NoUndo : public QObject {
 public:
  using QObject::QObject;
  bool eventFilter(QObject* of, QEvent* event) override;
};

}  // namespace eyebrow::window
