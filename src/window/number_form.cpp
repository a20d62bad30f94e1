#include "window/number_form.hpp"

#include <QInputDialog>
#include <QLabel>
#include <QLineEdit>
#include <QScrollArea>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "spec/quantity.hpp"
#include "window/form_group.hpp"
#include "window/form_row.hpp"
#include "window/form_words.hpp"
#include "window/number_field.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

/// A measured number in the unit that it is read in.
std::string number_text(const Origin& origin) {
  const auto unit = unit_from_word(origin.unit);
  return fmt::format("{:.6g} {}", origin.value / (unit ? factor(*unit) : 1), origin.unit);
}

QString told(const QString& before, const std::string& message) {
  return before.isEmpty() ? shown(message) : before + '\n' + shown(message);
}

}  // namespace

NumberForm::NumberForm(QWidget* parent)
    : QWidget(parent), search_(new QLineEdit(this)), loose_(new QLabel(this)), scroll_(new QScrollArea(this)) {
  search_->setPlaceholderText(tr("Find a number (Ctrl+F)"));
  search_->setClearButtonEnabled(true);
  connect(search_, &QLineEdit::textChanged, this, &NumberForm::filter);
  connect(search_, &QLineEdit::returnPressed, this, &NumberForm::take_found);
  loose_->setWordWrap(true);
  loose_->setStyleSheet("color: #a01020;");
  loose_->hide();
  scroll_->setWidgetResizable(true);
  scroll_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  scroll_->setFocusPolicy(Qt::NoFocus);
  auto* all = new QVBoxLayout(this);
  all->setContentsMargins(4, 4, 0, 0);
  all->addWidget(search_);
  all->addWidget(loose_);
  all->addWidget(scroll_, 1);
}

NumberForm::~NumberForm() = default;

void NumberForm::show_text(const std::string& text, const std::string& name) {
  std::vector<TextEntry> entries;
  std::vector<std::string> tables;
  try {
    entries = text_entries(text, name);
    tables = text_tables(text, name);
  } catch (const InputError&) {
    if (inside_) inside_->setEnabled(false);
    return;
  }
  std::vector<std::string> shape = tables;
  for (const TextEntry& entry : entries) shape.push_back(entry.table + '|' + entry.key);
  if (shape != shape_) {
    shape_ = shape;
    build(entries, tables);
  }
  inside_->setEnabled(true);
  const auto unit = std::ranges::find(entries, "units", &TextEntry::key);
  for (const auto& [key, each] : rows_) each->show_inches(unit != entries.end() && unit->typed == "in");
  for (const TextEntry& entry : entries)
    if (FormRow* found = row(entry.key); found && !(found->entry() == entry)) found->show_entry(entry);
}

void NumberForm::build(const std::vector<TextEntry>& entries, const std::vector<std::string>& tables) {
  groups_.clear();
  rows_.clear();
  inside_ = new QWidget;
  auto* layout = new QVBoxLayout(inside_);
  layout->setContentsMargins(2, 2, 4, 2);
  std::vector<std::string> headings{""};
  headings.insert(headings.end(), tables.begin(), tables.end());
  for (const std::string& table : headings) {
    auto* group = new FormGroup(table, inside_);
    for (const TextEntry& entry : entries) {
      if (entry.table != table || entry.kind == TextEntry::Kind::other) continue;
      auto* row = new FormRow(entry, group);
      connect(row, &FormRow::edited, this, &NumberForm::edited);
      connect(row, &FormRow::taken_out, this, &NumberForm::taken_out);
      connect(row, &FormRow::left, this, &NumberForm::left);
      group->add(row);
      rows_[entry.key] = row;
    }
    connect(group, &FormGroup::key_wanted, this, &NumberForm::ask_for_key);
    layout->addWidget(group);
    groups_.push_back(group);
  }
  layout->addStretch(1);
  scroll_->setWidget(inside_);
  filter(search_->text());
}

void NumberForm::filter(const QString& words) {
  for (FormGroup* group : groups_) group->filter(words);
}

void NumberForm::take_found() {
  for (FormGroup* group : groups_)
    for (FormRow* each : group->rows())
      if (each->answers(search_->text())) {
        each->take_keyboard();
        return;
      }
}

FormRow* NumberForm::row(const std::string& key) const {
  const auto found = rows_.find(key);
  return found == rows_.end() ? nullptr : found->second;
}

FormRow* NumberForm::row_at(const Fault& fault) const {
  if (FormRow* found = row(fault.key)) return found;
  if (fault.line == 0) return nullptr;
  // The value itself, else the first at or behind the place on its line: a fault of a list stands at its bracket.
  FormRow* best = nullptr;
  for (const auto& [key, each] : rows_) {
    const TextEntry& entry = each->entry();
    if (entry.line != fault.line || entry.column < fault.column) continue;
    if (!best || entry.column < best->entry().column) best = each;
  }
  if (best) return best;
  // A fault at a key stands before its value; the last field of the line is the nearest left.
  for (const auto& [key, each] : rows_)
    if (each->entry().line == fault.line) best = each;
  return best;
}

void NumberForm::show_faults(const std::vector<Fault>& faults) {
  std::map<FormRow*, QString> at_rows;
  std::map<FormGroup*, QString> at_groups;
  QString loose;
  for (const Fault& fault : faults) {
    const bool shows = inside_ && inside_->isEnabled();  // this text, not the last that was TOML
    if (FormRow* found = shows ? row_at(fault) : nullptr) {
      at_rows[found] = told(at_rows[found], fault.message);
      continue;
    }
    // What is missing from a table is told at its header, which stands before its first row.
    FormGroup* at = nullptr;
    for (FormGroup* group : groups_)
      if (shows && fault.line > 0 && !group->rows().empty() && group->rows().front()->entry().line > fault.line &&
          (!at || group->rows().front()->entry().line < at->rows().front()->entry().line))
        at = group;
    if (at)
      at_groups[at] = told(at_groups[at], fault.message);
    else
      loose = told(loose, fault.line > 0 ? to_string(fault) : fault.message);
  }
  for (const auto& [key, each] : rows_) each->show_fault(at_rows.count(each) ? at_rows.at(each) : QString());
  for (FormGroup* group : groups_) group->show_fault(at_groups.count(group) ? at_groups.at(group) : QString());
  loose_->setText(loose);
  loose_->setVisible(!loose.isEmpty());
}

QString NumberForm::loose_faults() const {
  return loose_->isHidden() ? QString() : loose_->text();
}

void NumberForm::show_origins(const Origins& origins) {
  for (const auto& [key, each] : rows_) {
    const auto found = origins.find(key);
    // Of one that is typed with its unit the next bare number is in the file's.
    if (found != origins.end() && !names_unit(each->entry().typed)) each->show_unit(shown(found->second.unit));
  }
}

void NumberForm::show_measured(const Origins& own, const MeasuredCylinder* cylinder) {
  for (const auto& [key, each] : rows_) {
    const auto here = own.find(key);
    QString note;
    if (cylinder && here != own.end())
      if (const auto there = cylinder->origins.find(key); there != cylinder->origins.end() &&
                                                          std::isfinite(there->second.value) &&
                                                          there->second.value != here->second.value)
        note = tr("cylinder %1: %2").arg(shown(cylinder->name), shown(number_text(there->second)));
    each->show_note(note);
  }
}

bool NumberForm::go_to(const std::string& key) {
  FormRow* found = row(key);
  if (!found) return false;
  search_->clear();
  for (FormGroup* group : groups_)
    if (std::find(group->rows().begin(), group->rows().end(), found) != group->rows().end()) group->fold(false);
  scroll_->ensureWidgetVisible(found);
  found->take_keyboard();
  // Once all is laid out anew: a group that was unfolded, a fault that is told, move what stands below them.
  QTimer::singleShot(0, this, [this, key] {
    if (FormRow* const there = row(key)) scroll_->ensureWidgetVisible(there);
  });
  return true;
}

void NumberForm::find() {
  search_->setFocus(Qt::ShortcutFocusReason);
  search_->selectAll();
}

void NumberForm::ask_for_key(const std::string& table) {
  QStringList keys;
  for (const std::string& each : number_keys(table))
    if (!row(table + '.' + each)) keys << shown(each);
  if (keys.isEmpty()) return;
  bool wanted = false;
  const QString key =
      QInputDialog::getItem(this, tr("Another number"), tr("Of [%1]:").arg(shown(table)), keys, 0, false, &wanted);
  if (wanted) Q_EMIT added(table + '.' + plain(key), "0");
}

}  // namespace eyebrow::window
