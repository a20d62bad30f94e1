#include "window/form_row.hpp"

#include <QAction>
#include <QComboBox>
#include <QContextMenuEvent>
#include <QGridLayout>
#include <QLabel>
#include <QMenu>

#include "window/form_words.hpp"
#include "window/number_field.hpp"
#include "window/text.hpp"

namespace eyebrow::window {

FormRow::FormRow(const TextEntry& entry, QWidget* parent)
    : QWidget(parent),
      entry_(entry),
      label_(new QLabel(key_label(entry.key, entry.table), this)),
      unit_(new QLabel(this)),
      fault_(new QLabel(this)),
      note_(new QLabel(this)) {
  setObjectName(shown(entry.key));
  QStringList words = words_of(entry.key);
  if (entry.kind == TextEntry::Kind::flag) words = QStringList{"true", "false"};
  QWidget* field = nullptr;
  if (entry.kind != TextEntry::Kind::number && words.contains(shown(entry.typed))) {
    field = choice_ = new QComboBox(this);
    choice_->addItems(words);
    choice_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    choice_->setMinimumContentsLength(6);
    choice_->setFocusPolicy(Qt::StrongFocus);
    connect(choice_, &QComboBox::textActivated, this, [this](const QString& word) { Q_EMIT edited(entry_.key, word); });
  } else {
    field = number_ = new NumberField(this);
    connect(number_, &NumberField::typed, this, [this](const QString& text) { Q_EMIT edited(entry_.key, text); });
    connect(number_, &NumberField::left, this, &FormRow::left);
    number_->setContextMenuPolicy(Qt::NoContextMenu);
  }
  label_->setBuddy(field);
  label_->setFixedWidth(fontMetrics().horizontalAdvance("ring groove depth"));
  label_->setWordWrap(true);
  unit_->setFixedWidth(fontMetrics().horizontalAdvance("deg") + 2);
  fault_->setWordWrap(true);
  fault_->setMinimumWidth(1);
  fault_->setStyleSheet("color: #a01020;");
  fault_->hide();
  note_->setWordWrap(true);
  note_->setMinimumWidth(1);
  note_->setStyleSheet("color: #4a5560;");
  note_->hide();
  auto* grid = new QGridLayout(this);
  grid->setContentsMargins(0, 0, 0, 0);
  grid->setVerticalSpacing(1);
  grid->setHorizontalSpacing(4);
  grid->addWidget(label_, 0, 0);
  grid->addWidget(field, 0, 1);
  grid->addWidget(unit_, 0, 2);
  grid->addWidget(fault_, 1, 0, 1, 3);
  grid->addWidget(note_, 2, 1, 1, 2);
  grid->setColumnStretch(1, 1);
  setFocusProxy(field);
  show_entry(entry);
}

void FormRow::show_entry(const TextEntry& entry) {
  entry_ = entry;
  if (number_) {
    number_->show_typed(shown(entry.typed));
    number_->setButtonSymbols(stepped(entry.typed, 1) ? QAbstractSpinBox::UpDownArrows : QAbstractSpinBox::NoButtons);
  }
  if (choice_) {
    if (choice_->findText(shown(entry.typed)) < 0) choice_->addItem(shown(entry.typed));
    choice_->setCurrentText(shown(entry.typed));
  }
  write_unit();
  explain();
}

void FormRow::write_unit() {
  unit_->setText(names_unit(entry_.typed) ? QString() : unit_of_bare_);
}

void FormRow::explain() {
  QStringList lines{"<b>" + shown(entry_.key).toHtmlEscaped() + "</b>"};
  if (!entry_.comment.empty()) lines << shown(entry_.comment).toHtmlEscaped();
  const std::string own = number_hint(entry_.key, inches_), other = number_hint(entry_.key, !inches_);
  if (!own.empty()) lines << shown(own).toHtmlEscaped();
  if (number_ && names_unit(entry_.typed) && other != own) lines << shown(other).toHtmlEscaped();
  lines << tr("line %1 of the file").arg(entry_.line);
  setToolTip(lines.join("<br>"));
}

void FormRow::show_fault(const QString& message) {
  if (message == fault()) return;
  fault_->setText(message);
  fault_->setVisible(!message.isEmpty());
  QWidget* field = number_ ? static_cast<QWidget*>(number_) : choice_;
  // Told by a mark and in words as well, for those who do not see the colour.
  label_->setText((message.isEmpty() ? "" : QString::fromUtf8("\u26a0 ")) + key_label(entry_.key, entry_.table));
  field->setStyleSheet(message.isEmpty() ? "" : "border: 2px solid #a01020; background: #fdeeee;");
}

void FormRow::show_unit(const QString& unit) {
  unit_of_bare_ = unit;
  write_unit();
}

void FormRow::show_inches(bool inches) {
  if (inches == inches_) return;
  inches_ = inches;
  explain();
}

void FormRow::show_note(const QString& note) {
  note_->setText(note);
  note_->setVisible(!note.isEmpty());
}

QString FormRow::note() const {
  return note_->isHidden() ? QString() : note_->text();
}

QString FormRow::fault() const {
  return fault_->isHidden() ? QString() : fault_->text();
}

QString FormRow::typed() const {
  return number_ ? number_->text() : choice_->currentText();
}

bool FormRow::answers(const QString& words) const {
  const QString all = shown(entry_.key + ' ' + entry_.comment) + ' ' + key_label(entry_.key, entry_.table) + ' ' +
                      table_title(entry_.table);
  for (const QString& word : words.split(' ', Qt::SkipEmptyParts))
    if (!all.contains(word, Qt::CaseInsensitive)) return false;
  return true;
}

void FormRow::take_keyboard() {
  setFocus(Qt::OtherFocusReason);
  if (number_) number_->selectAll();
}

void FormRow::contextMenuEvent(QContextMenuEvent* event) {
  QMenu menu;
  menu.addAction(tr("Take out of the file"), this, [this] { Q_EMIT taken_out(entry_.key); });
  menu.exec(event->globalPos());
}

}  // namespace eyebrow::window
