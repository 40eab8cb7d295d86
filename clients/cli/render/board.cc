#include "clients/cli/render/board.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <array>

#include "clients/cli/render/alert_list.h"
#include "clients/cli/render/alert_state.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/terminal_codes.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "clients/cli/words.h"

namespace turnstone::cli {
namespace {

// Every column but the last, which has the rest of the line.
constexpr size_t kBoardColumns = 6;
constexpr std::array<size_t, kBoardColumns> kWidest = {12, 8, 18, 10, 26, 999};

using BoardCells = std::array<std::string, kBoardColumns>;

bool CannotWait(const v1::Alert& alert) {
  return alert.priority() == v1::PRIORITY_STAT &&
         alert.status() == v1::ALERT_STATUS_REQUESTED;
}

BoardCells CellsOf(const v1::Alert& alert, bool with_site, absl::Time now) {
  const auto next = NextAt(alert);
  const bool held = alert.status() == v1::ALERT_STATUS_ON_HOLD;
  return {(CannotWait(alert) ? "! " : "  ") + alert.alert_id(),
          Word(alert.priority()),
          held ? "hold: " + HolderName(alert) : HolderName(alert),
          next.has_value() ? TimeLeft(*next - now) : "",
          with_site ? absl::StrCat(alert.site(), "/", alert.participant())
                    : alert.participant(),
          (alert.has_proposed_closing() ? "to be confirmed: " : "") +
              alert.rule().title()};
}

class Drawing {
 public:
  explicit Drawing(const Window& window) : window_(window) {}

  void Line(const std::string& text, const char* style = "") {
    const std::string line = Clip(text, std::max<size_t>(window_.columns, 1));
    const bool styled = window_.styled && *style != '\0';
    lines_.push_back(styled ? absl::StrCat(style, line, kPlain) : line);
  }

  // The cells one below another.
  void Rows(const std::vector<BoardCells>& rows,
            const std::vector<const char*>& styles) {
    std::array<size_t, kBoardColumns> widths = {};
    for (const BoardCells& row : rows) {
      for (size_t i = 0; i < kBoardColumns; ++i) {
        widths[i] = std::clamp(Width(row[i]), widths[i], kWidest[i]);
      }
    }
    for (size_t r = 0; r < rows.size(); ++r) {
      std::string line;
      for (size_t i = 0; i + 1 < kBoardColumns; ++i) {
        line += Pad(Clip(rows[r][i], widths[i]), widths[i]) + "  ";
      }
      Line(line + rows[r][kBoardColumns - 1], styles[r]);
    }
  }

  [[nodiscard]] std::string ToString() const {
    return absl::StrJoin(lines_, "\n");
  }

 private:
  const Window window_;
  std::vector<std::string> lines_;
};

std::string Title(const std::vector<v1::Alert>& open, absl::Time now) {
  const absl::TimeZone zone =
      open.empty() ? absl::UTCTimeZone() : Zone(open.front().time_zone());
  const auto waiting = std::count_if(open.begin(), open.end(), CannotWait);
  std::string title =
      open.empty() ? "No open alerts" : Count(std::ssize(open), "open alert");
  if (waiting > 0) {
    absl::StrAppend(&title, ", ", waiting, " (!) stat and with NOBODY");
  }
  return absl::StrCat(title, "; ", DateTime(now, zone));
}

}  // namespace

std::string Board(std::vector<v1::Alert> open, absl::Time now,
                  const Window& window, const std::string& notice) {
  for (v1::Alert& alert : open) CleanTexts(alert);
  SortByPressure(open);
  // However small the window, it shows what nobody has and cannot wait.
  std::stable_partition(open.begin(), open.end(), CannotWait);
  Drawing drawing(window);
  if (!notice.empty()) drawing.Line(CleanLine(notice), kReverse);
  drawing.Line(Title(open, now), kBold);
  // Besides the alerts: title, headings, the last line, and perhaps a notice.
  const size_t others = notice.empty() ? 3 : 4;
  const size_t room = std::max(window.rows, others + 2) - others;
  // One line of that says how many more there are.
  const size_t shown = open.size() <= room ? open.size() : room - 1;
  const bool with_site = SeveralSites(open);
  std::vector<BoardCells> rows = {
      {"  ALERT", "PRIORITY", "WITH", "NEXT IN", "PARTICIPANT", "WHAT"}};
  std::vector<const char*> styles = {""};
  for (size_t i = 0; i < shown; ++i) {
    rows.push_back(CellsOf(open[i], with_site, now));
    styles.push_back(CannotWait(open[i]) ? kReverse : "");
  }
  if (!open.empty()) drawing.Rows(rows, styles);
  if (shown < open.size()) {
    drawing.Line(absl::StrCat("  and ", open.size() - shown,
                              " more, less pressing: turnstone alerts"));
  }
  drawing.Line(kShortCaution);
  return drawing.ToString();
}

bool Rings(const v1::Alert* before, const v1::Alert& after) {
  if (after.priority() != v1::PRIORITY_STAT || !IsOpen(after)) return false;
  if (before == nullptr || before->priority() != v1::PRIORITY_STAT) return true;
  return after.status() == v1::ALERT_STATUS_REQUESTED &&
         after.escalation().tellings() > before->escalation().tellings();
}

}  // namespace turnstone::cli
