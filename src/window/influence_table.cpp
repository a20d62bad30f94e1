#include "window/influence_table.hpp"

#include <QHeaderView>
#include <QKeyEvent>
#include <algorithm>

#include "window/text.hpp"

namespace eyebrow::window {
namespace {

constexpr double kLetters = 0.86;  // of the window's: seven columns have to fit
constexpr int kKeyColumn = 0, kPerColumn = 1, kFirstNumber = 2;

/// Under "Valve intake" the valve's name need not stand in each key again.
std::string short_key(std::string key, const std::string& title) {
  const std::size_t space = title.find(' ');
  if (space == std::string::npos) return key;
  const std::string name = '.' + title.substr(space + 1) + '.';
  if (const std::size_t at = key.find(name); at != std::string::npos) key.erase(at, name.size() - 1);
  return key;
}

}  // namespace

InfluenceTable::InfluenceTable(QWidget* parent) : QTableWidget(0, 0, parent) {
  QFont small = font();
  small.setPointSizeF(small.pointSizeF() * kLetters);
  setFont(small);
  verticalHeader()->hide();
  verticalHeader()->setDefaultSectionSize(fontMetrics().height() + 4);
  horizontalHeader()->hide();
  setEditTriggers(NoEditTriggers);
  setSelectionBehavior(SelectRows);
  setSelectionMode(SingleSelection);
  setTabKeyNavigation(false);
  setShowGrid(false);
  setTextElideMode(Qt::ElideMiddle);
  connect(this, &QTableWidget::cellDoubleClicked, this, [this](int row, int) { tell(row); });
}

void InfluenceTable::show_influence(const EffectsTold& told, const Format& format) {
  const std::vector<InfluenceGroup> groups = influence_groups(told.influence, told.gaps, format);
  std::size_t most = 0;
  for (const InfluenceGroup& group : groups) most = std::max(most, group.columns.size());
  setRowCount(0);
  setColumnCount(kFirstNumber + static_cast<int>(most));
  const auto put = [&](int row, int column, const std::string& text, bool heading) {
    auto* const cell = new QTableWidgetItem(shown(text));
    cell->setTextAlignment(Qt::AlignVCenter | (column == kKeyColumn ? Qt::AlignLeft : Qt::AlignRight));
    if (heading) {
      QFont bold = cell->font();
      bold.setBold(true);
      cell->setFont(bold);
      cell->setBackground(palette().brush(QPalette::AlternateBase));
      cell->setFlags(Qt::ItemIsEnabled);
    }
    setItem(row, column, cell);
  };
  for (const InfluenceGroup& group : groups) {
    const int heading = rowCount();
    insertRow(heading);
    put(heading, kKeyColumn, group.title, true);
    put(heading, kPerColumn, "for", true);
    for (std::size_t i = 0; i < most; ++i)
      put(heading, kFirstNumber + static_cast<int>(i), i < group.columns.size() ? group.columns[i] : "", true);
    for (const InfluenceGroup::Row& each : group.rows) {
      const int row = rowCount();
      insertRow(row);
      put(row, kKeyColumn, short_key(each.key, group.title), false);
      item(row, kKeyColumn)->setToolTip(shown(each.key));
      item(row, kKeyColumn)->setData(Qt::UserRole, shown(each.key));
      put(row, kPerColumn, each.per, false);
      for (std::size_t i = 0; i < each.numbers.size(); ++i)
        put(row, kFirstNumber + static_cast<int>(i), each.numbers[i], false);
    }
  }
  horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
  if (columnCount() > 0) horizontalHeader()->setSectionResizeMode(kKeyColumn, QHeaderView::Stretch);
}

void InfluenceTable::tell(int row) {
  const QTableWidgetItem* const key = row < 0 ? nullptr : item(row, kKeyColumn);
  if (key && (key->flags() & Qt::ItemIsSelectable)) Q_EMIT key_chosen(plain(key->data(Qt::UserRole).toString()));
}

void InfluenceTable::keyPressEvent(QKeyEvent* event) {
  if (event->key() != Qt::Key_Return && event->key() != Qt::Key_Enter) return QTableWidget::keyPressEvent(event);
  tell(currentRow());
}

}  // namespace eyebrow::window
