#include "window/reserve_table.hpp"

#include <fmt/format.h>

#include <QHeaderView>

#include "report/words.hpp"
#include "window/text.hpp"

namespace eyebrow::window {

ReserveTable::ReserveTable(QWidget* parent) : QTableWidget(0, columns, parent) {
  setHorizontalHeaderLabels({tr("cam"), tr("until"), tr("earlier"), tr("then"), tr("later"), tr("then")});
  verticalHeader()->hide();
  verticalHeader()->setDefaultSectionSize(fontMetrics().height() + 6);
  horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
  horizontalHeader()->setSectionResizeMode(earlier_gap, QHeaderView::Stretch);
  horizontalHeader()->setSectionResizeMode(later_gap, QHeaderView::Stretch);
  horizontalHeader()->setHighlightSections(false);
  setEditTriggers(NoEditTriggers);
  setSelectionBehavior(SelectRows);
  setSelectionMode(SingleSelection);
  setTabKeyNavigation(false);
  setShowGrid(false);
  setAlternatingRowColors(true);
}

void ReserveTable::show_reserves(const std::vector<Reserve>& reserves) {
  setRowCount(0);
  const auto add = [&](const std::string& name, const QString& what, const ReserveEnd& early, const ReserveEnd& late) {
    const auto by = [](const ReserveEnd& end) {
      return end.gap.what.empty() ? "> " + degrees_text(kReserveMost) : fmt::format("{:.1f}", end.by / kDegree);
    };
    const auto gap = [](const ReserveEnd& end) { return end.gap.what.empty() ? std::string() : gap_name(end.gap); };
    const QString cells[columns] = {shown(name),     what, shown(by(early)), shown(gap(early)), shown(by(late)),
                                    shown(gap(late))};
    const int row = rowCount();
    insertRow(row);
    for (int column = 0; column < columns; ++column) {
      auto* const cell = new QTableWidgetItem(cells[column]);
      const bool number = column == earlier || column == later;
      cell->setTextAlignment(Qt::AlignVCenter | (number ? Qt::AlignRight : Qt::AlignLeft));
      if (number) {
        QFont bold = cell->font();
        bold.setBold(true);
        cell->setFont(bold);
      }
      setItem(row, column, cell);
    }
  };
  for (const Reserve& each : reserves) {
    add(each.cam, each.early.now || each.late.now ? tr("more short") : tr("short"), each.early, each.late);
    add("", each.early_contact.now || each.late_contact.now ? tr("more touch") : tr("contact"), each.early_contact,
        each.late_contact);
  }
}

}  // namespace eyebrow::window
