#include "window/result_table.hpp"

#include <QHeaderView>
#include <QKeyEvent>
#include <algorithm>
#include <cmath>

#include "report/asked.hpp"
#include "report/words.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

constexpr int kCellPadding = 8;  // pixels

bool touches(const AskedRow& row) {
  // The radial gap looks ahead along the path: below zero, the rim will run into the wall, but has not yet.
  return row.what != to_string(GapKind::radial) && row.found < 0;
}

/// As `check` calls them.
std::string row_title(const AskedRow& row) {
  const std::string running = row.running ? ", running" : "";
  if (row.what == "valve to valve") return row.valve + running;
  if (row.what == "valve to bore") return row.valve + " to bore" + running;
  return row_name(row);
}

/// What the lobe's card leaves open of the row's gap; null: nothing.
const GapRange* card_of(const CheckResult& result, const AskedRow& row) {
  const int valve = valves_of(result, row).first;
  if (row.running || valve < 0) return nullptr;
  for (const auto& [kind, range] : result.valves[static_cast<std::size_t>(valve)].card)
    if (row.what == to_string(kind)) return &range;
  return nullptr;
}

/// "rim to intake pocket wall, 7 o'clock"
std::string where_text(const Minimum* least) {
  if (least == nullptr || least->face_valve.empty()) return "";
  const std::string faces = least->face_valve + " to " + least->face_other;
  return std::isfinite(least->clock) ? faces + ", " + clock_text(least->clock) : faces;
}

QColor ground(const AskedRow& row, const ShownResult& shown) {
  if (shown.stale || shown.certainty == Certainty::sampled || row.holds) return {};
  return touches(row) ? QColor(0xf6, 0xd0, 0xcc) : QColor(0xfb, 0xe7, 0xc0);
}

}  // namespace

ResultTable::ResultTable(QWidget* parent) : QTableWidget(0, columns, parent) {
  setHorizontalHeaderLabels({tr("gap"), tr("found"), tr("up to"), tr("asked"), tr("margin"), "", tr("crank"),
                             tr("lift"), tr("entry"), tr("where")});
  const QString meanings[columns] = {
      tr("What is asked of the engine"),
      tr("The least over every crank angle and every lobe that the cam card allows; below zero: overlap, of a radial "
         "gap that the rim meets the wall further on"),
      tr("What the lobe of this cam card that leaves most would give; found, the least, is judged"),
      tr("What has to be left"),
      tr("Found less asked"),
      tr("Is what is asked there?"),
      tr("The crank angle of the least, from overlap TDC"),
      tr("Of the valve there"),
      tr("How deep the rim is in its pocket there; below zero: above the pocket's mouth"),
      tr("The faces that are nearest, and the hour around the valve, from above the piston, 12 toward the bore axis")};
  for (int column = 0; column < columns; ++column) horizontalHeaderItem(column)->setToolTip(meanings[column]);
  verticalHeader()->hide();
  verticalHeader()->setDefaultSectionSize(fontMetrics().height() + 6);
  // Names are what rows are told apart by: rather than short ones cut, the table scrolls. The longest may be cut.
  horizontalHeader()->setMaximumSectionSize(
      fontMetrics().horizontalAdvance(tr("exhaust_front / exhaust_rear, running")));
  horizontalHeader()->setHighlightSections(false);
  setWordWrap(false);
  setEditTriggers(NoEditTriggers);
  setTextElideMode(Qt::ElideMiddle);  // "exhaust_front, travel": both ends tell which
  setSelectionBehavior(SelectRows);
  setSelectionMode(SingleSelection);
  setTabKeyNavigation(false);
  setShowGrid(false);
  setAlternatingRowColors(true);
  setColumnHidden(up_to, true);
  connect(this, &QTableWidget::cellClicked, this, [this](int row, int) { Q_EMIT chosen(row); });
}

void ResultTable::show_result(const ShownResult& shown_result, const Format& format) {
  const CheckResult& result = *shown_result.result;
  const Lengths lengths(format);
  const int kept = currentRow();
  setRowCount(static_cast<int>(result.asked.size()));
  bool any_open = false;
  for (int i = 0; i < rowCount(); ++i) {
    const AskedRow& row = result.asked[static_cast<std::size_t>(i)];
    const Minimum* least = minimum_of(result, row);
    const bool open = least && (least->lift > 0 || least->lift2 > 0);
    const bool sampled = shown_result.certainty == Certainty::sampled;
    const auto at = crank_of(result, row);
    std::string found_text = lengths.gap(row.found);
    if (found_text.empty()) found_text = sampled ? "\u2026" : "none";
    if (sampled && !std::isnan(row.found)) found_text.insert(0, "\u2248 ");
    const std::string state = sampled || shown_result.stale ? "" : mark(&row, touches(row));
    const GapRange* const card = card_of(result, row);
    any_open = any_open || card != nullptr;
    const std::string cells[columns] = {row_title(row),
                                        found_text,
                                        card ? lengths.gap(card->greatest) : "",
                                        lengths.required(row.required),
                                        lengths.gap(row.margin),
                                        state,
                                        least && !open                                    ? "closed"
                                        : at && shown_result.certainty != Certainty::none ? crank_text(*at)
                                                                                          : "",
                                        least ? lengths.plain(least->lift) : "",
                                        least ? lengths.plain(least->entry) : "",
                                        where_text(least)};
    for (int column = 0; column < columns; ++column) {
      QTableWidgetItem* cell = item(i, column);
      if (!cell) setItem(i, column, cell = new QTableWidgetItem);
      if (column == what && cell->text() != shown(cells[column])) fitted_ = false;  // another engine's
      cell->setText(shown(cells[column]));
      cell->setTextAlignment(Qt::AlignVCenter |
                             (column == what || column == holds || column == where ? Qt::AlignLeft : Qt::AlignRight));
      const QColor behind = ground(row, shown_result);
      cell->setBackground(behind.isValid() ? QBrush(behind) : QBrush());
      cell->setForeground(shown_result.stale || sampled ? QBrush(QColor(0x55, 0x55, 0x55)) : QBrush());
      QFont font = cell->font();
      font.setItalic(shown_result.stale || sampled);
      font.setBold((column == found && !sampled) || (column == holds && !row.holds));
      cell->setFont(font);
      QString tip = shown(row_title(row));
      if (!row.note.empty()) tip += '\n' + shown(row.note);
      if (card)
        tip += '\n' + tr("Lobes with this cam card give %1 to %2 %3; the least is judged.")
                          .arg(shown(lengths.gap(card->least)), shown(lengths.gap(card->greatest)), lengths.unit());
      if (row.running) tip += '\n' + tr("With all that running takes; that is judged.");
      if (const std::string there = where_text(least); !there.empty()) tip += '\n' + shown(there);
      cell->setToolTip(tip);
    }
  }
  fit_columns(shown_result, any_open);
  if (kept >= 0 && kept < rowCount()) setCurrentCell(kept, 0);
}

/// While an edit is looked at the columns stay as they are.
void ResultTable::fit_columns(const ShownResult& shown_result, bool any_open) {
  const bool checked = shown_result.certainty == Certainty::checked;
  if (!checked && fitted_) return;
  if (checked) setColumnHidden(up_to, !any_open);
  resizeColumnsToContents();
  int wide = columnWidth(found);  // with room for the sign of a sampled number, too
  for (int row = 0; checked && row < rowCount(); ++row)
    wide = std::max(wide, fontMetrics().horizontalAdvance("\u2248 " + item(row, found)->text()) + kCellPadding);
  setColumnWidth(found, wide);
  fitted_ = checked;
}

QString ResultTable::copied() const {
  QString out;
  for (int row = -1; row < rowCount(); ++row)
    for (int column = 0; column < columns; ++column)
      if (!isColumnHidden(column))
        out +=
            (row < 0 ? horizontalHeaderItem(column) : item(row, column))->text() + (column + 1 < columns ? '\t' : '\n');
  return out;
}

void ResultTable::keyPressEvent(QKeyEvent* event) {
  switch (event->key()) {
    case Qt::Key_Return:
    case Qt::Key_Enter:
      if (currentRow() >= 0) Q_EMIT chosen(currentRow());
      return;
    case Qt::Key_Left:  // the crank's, see MainWindow
    case Qt::Key_Right:
    case Qt::Key_Space:
      event->ignore();
      return;
    default:
      QTableWidget::keyPressEvent(event);
  }
  if (event->key() == Qt::Key_Up || event->key() == Qt::Key_Down) Q_EMIT chosen(currentRow());
}

}  // namespace eyebrow::window
