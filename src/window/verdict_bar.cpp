#include "window/verdict_bar.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "report/asked.hpp"
#include "report/verdict_text.hpp"
#include "report/words.hpp"
#include "window/text.hpp"

namespace eyebrow::window {
namespace {

constexpr const char* kHoldsGround = "#1c5d3b";
constexpr const char* kShortGround = "#8a5300";
constexpr const char* kContactGround = "#9c1c1c";
constexpr const char* kOpenGround = "#4a5560";

/// The thinnest metal to ring groove and underside; one of them that is not known leaves it unknown.
QString crown_sentence(const CheckResult& result, const Lengths& lengths) {
  const MetalLeft* least = nullptr;
  for (const MetalLeft& left : result.crown_left) {
    if (left.state == MetalLeft::State::not_known)
      return VerdictBar::tr("The crown left under the pockets is NOT KNOWN.");
    if (left.to <= MetalLeft::To::underside && (least == nullptr || left.value < least->value)) least = &left;
  }
  if (least == nullptr) return {};
  return VerdictBar::tr(
             "Crown left to groove and underside: %1 %2 at its thinnest, %3 pocket to the %4; the piston maker's limit "
             "rules.")
      .arg(shown(lengths.gap(least->value)), lengths.unit(), shown(least->pocket), shown(name_beyond(*least)));
}

QString holds_sentence(const CheckResult& result, const Lengths& lengths) {
  const AskedRow* row = tightest_row(result);
  if (!row) return {};
  return VerdictBar::tr("Every asked gap is there; the least margin is %1 %2: %3.")
      .arg(shown(lengths.gap(row->margin)), lengths.unit(), shown(row_name(*row)));
}

QString fails_sentence(const CheckResult& result, const Lengths& lengths) {
  const auto failing =
      std::count_if(result.asked.begin(), result.asked.end(), [](const AskedRow& row) { return !row.holds; });
  QString out = result.verdict == Verdict::contact ? VerdictBar::tr("Parts touch or run into each other. ") : QString();
  out += VerdictBar::tr("%1 of %2 asked gaps do not hold").arg(failing).arg(result.asked.size());
  const AskedRow* row = tightest_row(result);
  if (row && !std::isnan(row->margin))
    out += VerdictBar::tr("; worst %1: margin %2 %3")
               .arg(shown(row_name(*row)), shown(lengths.gap(row->margin)), lengths.unit());
  return out + '.';
}

}  // namespace

VerdictBar::VerdictBar(QWidget* parent)
    : QFrame(parent),
      word_(new QLabel(this)),
      sentence_(new QLabel(this)),
      conditions_(new QLabel(this)),
      caution_(new QLabel(kCaution, this)) {
  setObjectName("verdict");
  QFont big = word_->font();
  big.setBold(true);
  big.setPointSizeF(big.pointSizeF() * 1.5);
  word_->setFont(big);
  word_->setMinimumWidth(QFontMetrics(big).horizontalAdvance("INPUT WRONG ") + 8);
  for (QLabel* label : {sentence_, conditions_, caution_}) {
    label->setWordWrap(true);
    label->setTextInteractionFlags(Qt::TextSelectableByMouse);
    label->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
  }
  QFont small = conditions_->font();
  small.setPointSizeF(small.pointSizeF() * 0.92);
  conditions_->setFont(small);
  small.setBold(true);
  caution_->setFont(small);
  auto* words = new QVBoxLayout;
  words->setSpacing(0);
  words->addWidget(sentence_);
  words->addWidget(conditions_);
  words->addWidget(caution_);
  auto* all = new QHBoxLayout(this);
  all->setContentsMargins(10, 5, 10, 5);
  all->addWidget(word_);
  all->addLayout(words, 1);
  show_trouble(tr("NO ENGINE"), tr("Open an engine file, or begin a new one."));
}

void VerdictBar::paint(const char* ground, const QString& word) {
  setStyleSheet(QString("#verdict { background: %1; } #verdict QLabel { color: white; }").arg(ground));
  word_->setText(word);
}

void VerdictBar::show_result(const ShownResult& shown_result, const Format& format, const CylindersResult* all) {
  const CheckResult& result = *shown_result.result;
  const Lengths lengths(format);
  if (shown_result.stale || shown_result.certainty == Certainty::sampled || shown_result.certainty == Certainty::none) {
    paint(kOpenGround, tr("CHECKING"));
    sentence_->setText(tr("The numbers changed: no verdict yet."));
    conditions_->clear();
    fit(Keep::height);
    return;
  }
  // Of an engine whose cylinders were measured the worst one's verdict is the engine's.
  const CheckResult& judged = all && all->each.size() > 1 ? all->each[all->worst] : result;
  switch (judged.verdict) {
    case Verdict::holds:
      paint(kHoldsGround, tr("HOLDS"));
      sentence_->setText(holds_sentence(judged, lengths));
      break;
    case Verdict::short_:
      paint(kShortGround, tr("SHORT"));
      sentence_->setText(fails_sentence(judged, lengths));
      break;
    case Verdict::contact:
      paint(kContactGround, tr("CONTACT"));
      sentence_->setText(fails_sentence(judged, lengths));
      break;
  }
  if (&judged != &result)
    sentence_->setText(tr("Cylinder %1, the worst: ").arg(shown(judged.conditions.cylinder)) + sentence_->text());
  QStringList lines;
  if (shown_result.certainty == Certainty::judged)
    lines << tr("Where each gap is least is being looked for.");
  else
    lines << tr("Conditions: %1.").arg(shown(state_text(judged.conditions, lengths)));
  if (!judged.warnings.empty()) lines << tr("%1 warning(s) about the input: see the list.").arg(judged.warnings.size());
  if (!judged.crown_left.empty()) lines << crown_sentence(judged, lengths);
  conditions_->setText(lines.join(' '));
  fit(Keep::height);
}

void VerdictBar::show_trouble(const QString& word, const QString& sentence) {
  paint(kOpenGround, word);
  sentence_->setText(sentence);
  conditions_->clear();
  fit(Keep::height);
}

void VerdictBar::forget() {
  for (QLabel* label : {sentence_, conditions_, caution_}) label->setMinimumHeight(0);
}

void VerdictBar::resizeEvent(QResizeEvent*) {
  fit(Keep::nothing);
}

/// As many lines as the words take: layouts within layouts do not see to it. While one engine is edited the bar does
/// not shrink: all that stands below would be laid out, and drawn in 3-D, twice an edit.
void VerdictBar::fit(Keep keep) {
  const int wide = width() - word_->minimumWidth() - 40;
  for (QLabel* label : {sentence_, conditions_, caution_}) {
    const QRect room(0, 0, std::max(wide, 100), 10000);
    const int least = keep == Keep::height ? label->minimumHeight() : label->fontMetrics().height();
    const int high = label->fontMetrics().boundingRect(room, Qt::TextWordWrap, label->text()).height() + 2;
    label->setFixedHeight(std::max(least, high));
  }
  // At once: no line may stand on the caution, not even for a moment.
  layout()->activate();
  if (parentWidget() && parentWidget()->layout()) parentWidget()->layout()->activate();
}

QString VerdictBar::word() const {
  return word_->text();
}
QString VerdictBar::sentence() const {
  return sentence_->text();
}
QString VerdictBar::conditions() const {
  return conditions_->text();
}
QString VerdictBar::caution() const {
  return caution_->isVisible() ? caution_->text() : QString();
}

}  // namespace eyebrow::window
