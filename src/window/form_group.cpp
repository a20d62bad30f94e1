#include "window/form_group.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QToolButton>
#include <QVBoxLayout>

#include "eyebrow/edit.hpp"
#include "window/form_row.hpp"
#include "window/form_words.hpp"

namespace eyebrow::window {

FormGroup::FormGroup(const std::string& table, QWidget* parent)
    : QWidget(parent),
      table_(table),
      heading_(new QToolButton(this)),
      body_(new QWidget(this)),
      layout_(new QVBoxLayout(body_)),
      fault_(new QLabel(this)) {
  heading_->setText(table_title(table));
  heading_->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
  heading_->setArrowType(Qt::DownArrow);
  heading_->setAutoRaise(true);
  QFont bold = heading_->font();
  bold.setBold(true);
  heading_->setFont(bold);
  connect(heading_, &QToolButton::clicked, this, [this] { fold(!body_->isHidden()); });
  auto* top = new QHBoxLayout;
  top->addWidget(heading_);
  top->addStretch();
  if (!number_keys(table).empty()) {
    auto* more = new QToolButton(this);
    more->setText("+");
    more->setToolTip(tr("State another number of this table"));
    more->setAutoRaise(true);
    more->setFocusPolicy(Qt::TabFocus);
    connect(more, &QToolButton::clicked, this, [this] { Q_EMIT key_wanted(table_); });
    top->addWidget(more);
  }
  fault_->setWordWrap(true);
  fault_->setMinimumWidth(1);
  fault_->setStyleSheet("color: #a01020;");
  fault_->hide();
  layout_->setContentsMargins(8, 0, 0, 4);
  layout_->setSpacing(2);
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(0, 0, 0, 0);
  all->setSpacing(1);
  all->addLayout(top);
  all->addWidget(fault_);
  all->addWidget(body_);
}

void FormGroup::add(FormRow* row) {
  layout_->addWidget(row);
  rows_.push_back(row);
}

void FormGroup::show_fault(const QString& message) {
  fault_->setText(message);
  fault_->setVisible(!message.isEmpty());
}

void FormGroup::fold(bool folded) {
  heading_->setArrowType(folded ? Qt::RightArrow : Qt::DownArrow);
  body_->setVisible(!folded);
}

void FormGroup::filter(const QString& words) {
  bool any = words.isEmpty();
  for (FormRow* row : rows_) {
    const bool fits = row->answers(words);
    row->setVisible(fits);
    any = any || fits;
  }
  setVisible(any);
}

}  // namespace eyebrow::window
