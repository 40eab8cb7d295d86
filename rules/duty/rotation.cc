#include "rules/duty/rotation.h"

#include <algorithm>

#include "rules/duty/written_time.h"
#include "rules/measure/work_calendar.h"

namespace turnstone {
namespace {

struct Span {
  absl::Time from;
  absl::Time until;
};

absl::Time On(absl::CivilDay day, absl::Duration from_midnight,
              absl::TimeZone zone) {
  return LocalToAbsolute(
      absl::CivilSecond(day) + absl::ToInt64Seconds(from_midnight), zone);
}

absl::CivilDay DayOf(absl::Time time, absl::TimeZone zone) {
  return absl::CivilDay(absl::ToCivilSecond(time, zone));
}

// The hand-overs of a rotation, numbered from 0.
class HandOvers {
 public:
  HandOvers(const v1::Rotation& rotation, absl::TimeZone zone)
      : first_(ReadDay(rotation.starts_on()).value()),
        at_(ReadTimeOfDay(rotation.hand_over_at()).value()),
        days_each_(rotation.days_each()),
        zone_(zone) {}

  [[nodiscard]] absl::Time operator[](int64_t number) const {
    return On(first_ + number * days_each_, at_, zone_);
  }

  // The latest one not after `time`; below 0: there has been none.
  [[nodiscard]] int64_t LatestAt(absl::Time time) const {
    // Not before the next day's has its turn come; from there it is near.
    int64_t number = (DayOf(time, zone_) + 1 - first_) / days_each_ + 1;
    while ((*this)[number] > time) --number;
    return number;
  }

 private:
  absl::CivilDay first_;
  absl::Duration at_;
  int days_each_;
  absl::TimeZone zone_;
};

bool BeginsOn(const v1::Window& window, absl::CivilDay day) {
  // absl::Weekday begins with Monday, and with 0.
  const int weekday = v1::MONDAY + static_cast<int>(absl::GetWeekday(day));
  return window.weekday().empty() ||
         std::find(window.weekday().begin(), window.weekday().end(), weekday) !=
             window.weekday().end();
}

// Empty where a clock change leaves nothing of it.
Span WindowOn(const v1::Window& window, absl::CivilDay day,
              absl::TimeZone zone) {
  const absl::Duration from = ReadTimeOfDay(window.from()).value();
  const absl::Duration until = ReadTimeOfDay(window.until()).value();
  return {On(day, from, zone), On(until > from ? day : day + 1, until, zone)};
}

// Calls `use` with each window's span that may reach into [from, until).
template <typename Use>
void ForEachSpan(const v1::Rotation& rotation, absl::TimeZone zone,
                 absl::Time from, absl::Time until, Use use) {
  // A window may have begun the day before; a clock change may move a day.
  const absl::CivilDay last = DayOf(until, zone) + 1;
  for (absl::CivilDay day = DayOf(from, zone) - 2; day <= last; ++day) {
    for (const v1::Window& window : rotation.window()) {
      if (BeginsOn(window, day)) use(WindowOn(window, day, zone));
    }
  }
}

}  // namespace

std::string PersonAt(const v1::Rotation& rotation, absl::TimeZone zone,
                     absl::Time time) {
  const int64_t turn = HandOvers(rotation, zone).LatestAt(time);
  if (turn < 0) return "";
  bool covered = rotation.window().empty();
  ForEachSpan(rotation, zone, time, time, [&](const Span& span) {
    covered = covered || (span.from <= time && time < span.until);
  });
  if (!covered) return "";
  return rotation.person(static_cast<int>(turn % rotation.person_size()));
}

void AddChanges(const v1::Rotation& rotation, absl::TimeZone zone,
                absl::Time from, absl::Time until,
                std::set<absl::Time>& changes) {
  const auto add = [&](absl::Time time) {
    if (from < time && time < until) changes.insert(time);
  };
  const HandOvers hand_overs(rotation, zone);
  int64_t number = std::max<int64_t>(hand_overs.LatestAt(from) + 1, 0);
  for (; hand_overs[number] < until; ++number) add(hand_overs[number]);
  ForEachSpan(rotation, zone, from, until, [&](const Span& span) {
    add(span.from);
    add(span.until);
  });
}

}  // namespace turnstone
