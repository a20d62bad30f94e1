#include "window/result_tabs.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "eyebrow/edit.hpp"
#include "report/remedy_words.hpp"
#include "window/influence_table.hpp"
#include "window/remedy_table.hpp"
#include "window/reserve_table.hpp"
#include "window/result_table.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

QLabel* wrapping_label() {
  auto* const label = new QLabel;
  label->setWordWrap(true);
  label->setMargin(4);
  return label;
}

/// As a person would type it over what stands there: a bare number stays bare, a reading error stays behind it.
std::string typed_over(const Consequences::Source& source, const Remedy& remedy) {
  std::string number = remedy_number(remedy.input, remedy.value);
  const std::vector<TextEntry> entries = text_entries(source.text, source.name);
  const auto entry = std::ranges::find(entries, remedy.input.key, &TextEntry::key);
  if (entry == entries.end()) return number;
  const auto origin = source.file->origins.find(remedy.input.key);
  const bool same_unit = origin != source.file->origins.end() && origin->second.unit == remedy.input.unit;
  if (entry->kind == TextEntry::Kind::number && same_unit && !remedy.input.unit.empty())
    number.erase(number.rfind(' '));
  for (const char* sign : {"\u00b1", "+/-", "+-"})
    if (const std::size_t at = entry->typed.find(sign); at != std::string::npos)
      return number + ' ' + entry->typed.substr(at);
  return number;
}

}  // namespace

ResultTabs::ResultTabs(QWidget* parent)
    : QTabWidget(parent),
      gaps_(new ResultTable),
      reserve_(new ReserveTable),
      remedies_(new RemedyTable),
      influence_(new InfluenceTable),
      caution_(wrapping_label()),
      put_(new QPushButton(tr("Put into the file"))) {
  setDocumentMode(true);
  addTab(gaps_, tr("Gaps"));
  addTab(page(reserve_, said_[kReserve], nullptr), tr("Reserve"));
  auto* const below = new QWidget;
  auto* const row = new QHBoxLayout(below);
  row->setContentsMargins(2, 2, 4, 2);
  row->addWidget(caution_, 1);
  row->addWidget(put_, 0, Qt::AlignBottom);
  addTab(page(remedies_, said_[kRemedies], below), tr("To restore"));
  addTab(page(influence_, said_[kInfluence], nullptr), tr("Influence"));
  setTabToolTip(kReserve, tr("How far each cam may move before something more is short"));
  setTabToolTip(kRemedies, tr("For each short gap the least change of one number that restores it"));
  setTabToolTip(kInfluence, tr("What so much more of each number adds to the least gaps"));
  QFont small = caution_->font();
  small.setPointSizeF(small.pointSizeF() * 0.92);
  caution_->setFont(small);
  caution_->setText(tr("Ask for more than the least. %1").arg(kThinsCrown));
  put_->setEnabled(false);

  connect(this, &QTabWidget::currentChanged, this, &ResultTabs::look_for);
  connect(put_, &QPushButton::clicked, this, &ResultTabs::put_chosen);
  connect(remedies_, &RemedyTable::wanted, this, &ResultTabs::put_chosen);
  connect(remedies_, &QTableWidget::currentCellChanged, this,
          [this] { put_->setEnabled(result_ && remedies_->chosen()); });
  connect(influence_, &InfluenceTable::key_chosen, this, &ResultTabs::key_chosen);
  connect(&consequences_, &Consequences::progressed, this, [this](double share) {
    const QString done = tr(" %1 %").arg(static_cast<int>(100 * share));
    if (currentIndex() == kRemedies) say(kRemedies, tr("Looking for the least changes ...") + done);
    if (currentIndex() == kInfluence) say(kInfluence, tr("Moving every number ...") + done);
  });
  connect(&consequences_, &Consequences::remedies_found, this, [this](const std::vector<GapRemedies>& found) {
    found_remedies_ = found;
    show_all();
    Q_EMIT busy_changed(false);
    look_for();
  });
  connect(&consequences_, &Consequences::influence_found, this, [this](const EffectsTold& found) {
    found_influence_ = found;
    show_all();
    Q_EMIT busy_changed(false);
    look_for();
  });
  connect(&consequences_, &Consequences::failed, this, [this](const QString& why) {
    for (const Tab tab : {kRemedies, kInfluence})
      if (currentIndex() == tab) say(tab, tr("Nothing was found: %1").arg(why));
    Q_EMIT busy_changed(false);
  });
  forget();
}

QWidget* ResultTabs::page(QTableWidget* table, QLabel*& said, QWidget* below) {
  auto* const out = new QWidget;
  auto* const all = new QVBoxLayout(out);
  all->setContentsMargins(0, 0, 0, 0);
  all->setSpacing(0);
  said = wrapping_label();
  all->addWidget(said);
  all->addWidget(table, 1);
  if (below) all->addWidget(below);
  return out;
}

void ResultTabs::take(const Checked& checked, const Consequences::Source& source, const Format& format) {
  give_up();
  result_ = checked.result;
  cylinders_ = checked.all.each.size() > 1;
  source_ = source;
  source_.cylinder = result_->conditions.cylinder;
  format_ = format;
  found_remedies_.reset();
  found_influence_.reset();
  const auto failing = std::ranges::count_if(result_->asked, [](const AskedRow& row) { return !row.holds; });
  setTabText(kRemedies, failing > 0 ? tr("To restore: %1").arg(failing) : tr("To restore"));
  show_all();
  look_for();
}

void ResultTabs::forget() {
  give_up();
  result_.reset();
  setTabText(kRemedies, tr("To restore"));
  for (const Tab tab : {kReserve, kRemedies, kInfluence}) say(tab, tr("Of the numbers before: wait for the check."));
  for (QTableWidget* table : std::initializer_list<QTableWidget*>{reserve_, remedies_, influence_})
    table->setEnabled(false);
  put_->setEnabled(false);
}

void ResultTabs::give_up() {
  if (!consequences_.busy()) return;
  consequences_.give_up();
  for (const Tab tab : {kRemedies, kInfluence}) say(tab, tr("Given up: open this tab again to begin anew."));
  Q_EMIT busy_changed(false);
}

void ResultTabs::show_units(const Format& format) {
  if (format.units == format_.units && format.digits == format_.digits) return;
  format_ = format;
  if (result_) show_all();
}

/// What the tab in sight needs and is not known yet.
void ResultTabs::look_for() {
  if (!result_ || consequences_.busy()) return;
  if (currentIndex() == kRemedies && !found_remedies_ && !cylinders_ && result_->verdict != Verdict::holds) {
    say(kRemedies, tr("Looking for the least changes ..."));
    consequences_.find_remedies(source_);
  } else if (currentIndex() == kInfluence && !found_influence_) {
    say(kInfluence, tr("Moving every number ..."));
    consequences_.find_influence(source_);
  }
  if (consequences_.busy()) Q_EMIT busy_changed(true);
}

void ResultTabs::show_all() {
  reserve_->show_reserves(result_->reserves);
  reserve_->setEnabled(true);
  const bool already = std::ranges::any_of(result_->reserves, [](const Reserve& each) {
    return each.early.now || each.late.now || each.early_contact.now || each.late_contact.now;
  });
  say(kReserve, tr("How far a cam may move, degrees of crank, rounded inward, and what a tenth more would do.") +
                    (already ? ' ' + tr("More: than the gaps that do not hold where the cams are set.") : QString()));
  remedies_->show_remedies(found_remedies_.value_or(std::vector<GapRemedies>()), format_);
  remedies_->setEnabled(found_remedies_.has_value());
  put_->setEnabled(false);
  if (found_remedies_)
    say(kRemedies, tr("Each of these alone restores its gap; a step less does not."));
  else if (result_->verdict == Verdict::holds)
    say(kRemedies, tr("Every asked gap holds: there is nothing to restore."));
  else if (cylinders_)
    say(kRemedies, tr("Of measured cylinders each has numbers of its own, which a change of the file's number would "
                      "not reach."));
  influence_->show_influence(found_influence_.value_or(EffectsTold()), format_);
  influence_->setEnabled(found_influence_.has_value());
  if (found_influence_) say(kInfluence, shown(influence_meaning(format_)));
}

void ResultTabs::say(Tab tab, const QString& text) {
  if (said_[tab]) said_[tab]->setText(text);
}

QString ResultTabs::said(Tab tab) const {
  return said_[tab] ? said_[tab]->text() : QString();
}

void ResultTabs::put_chosen() {
  const Remedy* const chosen = remedies_->chosen();
  if (!result_ || !chosen) return;
  const std::string key = chosen->input.key;  // the edit takes the rows away
  Q_EMIT value_wanted(key, typed_over(source_, *chosen));
}

}  // namespace eyebrow::window
