#include "window/remedy_table.hpp"

#include <fmt/format.h>

#include <QHeaderView>
#include <QKeyEvent>
#include <cmath>

#include "report/remedy_words.hpp"
#include "window/text.hpp"

namespace eyebrow::window {

RemedyTable::RemedyTable(QWidget* parent) : QTableWidget(0, columns, parent) {
  setHorizontalHeaderLabels({tr("change"), tr("what it does")});
  verticalHeader()->hide();
  horizontalHeader()->setSectionResizeMode(change, QHeaderView::Interactive);
  horizontalHeader()->setSectionResizeMode(effect, QHeaderView::Stretch);
  horizontalHeader()->setHighlightSections(false);
  setColumnWidth(change, fontMetrics().horizontalAdvance("pocket.exhaust.diameter") + 14);
  setEditTriggers(NoEditTriggers);
  setSelectionBehavior(SelectRows);
  setSelectionMode(SingleSelection);
  setTabKeyNavigation(false);
  setWordWrap(true);
  // A bar that came with the rows would take from the width that their heights were made for.
  setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOn);
  connect(horizontalHeader(), &QHeaderView::sectionResized, this, &RemedyTable::fit);
  connect(this, &QTableWidget::cellDoubleClicked, this, [this] {
    if (chosen()) Q_EMIT wanted();
  });
}

void RemedyTable::show_remedies(const std::vector<GapRemedies>& remedies, const Format& format) {
  remedies_ = remedies;
  of_row_.clear();
  clearSpans();
  setRowCount(0);
  const Lengths lengths(format);
  for (const GapRemedies& of : remedies_) {
    add_heading(tr("%1: %2 of %3 %4")
                    .arg(shown(gap_name(of.gap)), std::isfinite(of.found) ? shown(lengths.gap(of.found)) : tr("none"),
                         shown(lengths.required(of.gap.required)), lengths.unit()));
    bool any = false;
    QString without;
    for (const Remedy& each : of.remedies) {
      if (!each.restores)
        without += (without.isEmpty() ? "" : ", ") + shown(remedy_tried(each));
      else if (!each.spoils()) {
        any = true;
        add(each, format, remedies_.size() > 1);
      }
    }
    if (!any) add_note(tr("None of the numbers that were tried restores it."));
    bool told = false;
    for (const Remedy& each : of.remedies)
      if (each.restores && each.spoils()) {
        if (!told) add_note(tr("These won't do it alone, as they make another gap short:"));
        told = true;
        add(each, format, false);
      }
    if (!without.isEmpty()) add_note(tr("Not enough alone, as far as each was tried: %1").arg(without));
  }
  fit();
}

/// Rows as high as their words; of those that go across, the view would count their first column alone.
void RemedyTable::fit() {
  resizeRowsToContents();
  for (int row = 0; row < rowCount(); ++row) {
    if (columnSpan(row, change) == 1) continue;
    const QRect room(0, 0, viewport()->width() - 10, 10000);
    const QFontMetrics letters(item(row, change)->font());
    setRowHeight(row, letters.boundingRect(room, Qt::TextWordWrap, item(row, change)->text()).height() + 6);
  }
}

void RemedyTable::add_heading(const QString& text) {
  const int row = rowCount();
  insertRow(row);
  of_row_.push_back(nullptr);
  auto* const cell = new QTableWidgetItem(text);
  QFont bold = cell->font();
  bold.setBold(true);
  cell->setFont(bold);
  cell->setBackground(palette().brush(QPalette::AlternateBase));
  cell->setFlags(Qt::ItemIsEnabled);
  setItem(row, change, cell);
  setSpan(row, change, 1, columns);
}

void RemedyTable::add_note(const QString& text) {
  const int row = rowCount();
  insertRow(row);
  of_row_.push_back(nullptr);
  auto* const cell = new QTableWidgetItem(text);
  QFont slanted = cell->font();
  slanted.setItalic(true);
  cell->setFont(slanted);
  cell->setFlags(Qt::ItemIsEnabled);
  setItem(row, change, cell);
  setSpan(row, change, 1, columns);
}

void RemedyTable::add(const Remedy& remedy, const Format& format, bool several) {
  const int row = rowCount();
  insertRow(row);
  of_row_.push_back(&remedy);
  const double by = remedy.value - remedy.input.now;
  std::string does = fmt::format(
      "{} by {}{}\n{}", remedy_deed(remedy.input, by > 0), remedy_number(remedy.input, std::fabs(by)),
      several && restores_all(remedy) ? "; then every gap holds" : "", remedy_others(remedy, Lengths(format)));
  setItem(row, change,
          new QTableWidgetItem(shown(remedy.input.key + "\n= " + remedy_number(remedy.input, remedy.value))));
  setItem(row, effect, new QTableWidgetItem(shown(does)));
}

const Remedy* RemedyTable::chosen() const {
  const int row = currentRow();
  return row < 0 || row >= static_cast<int>(of_row_.size()) ? nullptr : of_row_[static_cast<std::size_t>(row)];
}

void RemedyTable::keyPressEvent(QKeyEvent* event) {
  if (event->key() != Qt::Key_Return && event->key() != Qt::Key_Enter) return QTableWidget::keyPressEvent(event);
  if (chosen()) Q_EMIT wanted();
}

}  // namespace eyebrow::window
