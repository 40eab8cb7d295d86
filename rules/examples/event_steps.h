// The steps that change one event. Pure.
#pragma once

#include "rules/examples/neighbours.h"

namespace turnstone {

// "the PHQ-9 of 3 Feb 2027", "the outcome of visit-3 of 3 Feb 2027".
[[nodiscard]] std::string EventPhrase(const v1::Event& event,
                                      const Catalogue& catalogue,
                                      absl::TimeZone zone);

// Collects the steps from one event. What it is made from must outlive it.
class EventSteps {
 public:
  EventSteps(const v1::Event& event, size_t at, const Catalogue& catalogue,
             const StepOptions& options)
      : event_(event),
        at_(at),
        options_(options),
        catalogue_(catalogue),
        phrase_(EventPhrase(event, catalogue, options.zone)) {}

  void AddAll(std::vector<Step>& steps);

 private:
  // Adds `changed` in place of the event; `differs` follows its phrase.
  void Add(StepSize size, v1::Event changed, const std::string& differs);

  void OfForm();
  void OfItem(const Scale& scale, size_t item);
  // `answer`: empty for none.
  void OfAnswer(const Scale& scale, size_t item, const std::string& answer);
  void OfTotal(const Scale& scale);
  void OfAnswersInAll(const Scale& scale);
  void OfResult(const Scale& scale);
  void OfWish();
  void OfVisit();
  void OfPlan();
  void OfPractice();
  void OfEnrolment();
  void OfDischarge();

  void OfTime();
  void LeftOut();
  // Once more the day before: as it is, and with a total a step off.
  void OnceMore();

  const v1::Event& event_;
  size_t at_;
  const StepOptions& options_;
  const Catalogue& catalogue_;
  std::string phrase_;
  std::vector<Step>* steps_ = nullptr;
};

}  // namespace turnstone
