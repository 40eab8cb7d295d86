// The instruments a configuration knows, indexed for scoring.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "turnstone/v1/instrument.pb.h"

namespace turnstone {

// A range of whole numbers, both ends included.
struct Interval {
  int low = 0;
  int high = 0;
  [[nodiscard]] bool IsPoint() const { return low == high; }
  friend bool operator==(const Interval&, const Interval&) = default;
};

// An answer a question accepts. `points` is absent where it is not scored;
// reverse keys are already applied.
struct AnswerKey {
  std::optional<int> points;
};

// One instrument, checked and indexed. Immutable; safe to share.
class Scale {
 public:
  // REQUIRES: `definition` passed LoadConfiguration.
  explicit Scale(v1::Instrument definition);

  [[nodiscard]] const v1::Instrument& definition() const { return definition_; }
  // False where only a coded result is kept: then there is no total.
  [[nodiscard]] bool HasItems() const { return !answers_.empty(); }
  // Null when it has no such result.
  [[nodiscard]] const v1::Result* FindResult(const std::string& code) const;
  // Null when there is no such preset.
  [[nodiscard]] const v1::ChangePreset* FindPreset(
      const std::string& name) const;
  // The total is the sum of the points times this.
  [[nodiscard]] int Multiplier() const;
  // Lowest and highest total, multiplier included.
  [[nodiscard]] Interval Range() const { return range_; }
  // Lowest and highest points of scored item `index`; 0 and 0 if unscored.
  [[nodiscard]] Interval ItemRange(size_t index) const {
    return item_ranges_[index];
  }
  // Index into definition().item(), by any of the question's codes.
  [[nodiscard]] std::optional<size_t> FindItem(const std::string& code) const;
  // All answers item `index` accepts, in printed order.
  [[nodiscard]] std::vector<v1::Answer> AnswersTo(size_t index) const;
  // Null when item `index` does not accept `answer`.
  [[nodiscard]] const AnswerKey* FindAnswer(size_t index,
                                            const std::string& answer) const;
  // Index of the self-harm item, if there is one.
  [[nodiscard]] std::optional<size_t> SelfHarmItem() const;
  // Label of the band that holds the whole interval; empty if none does.
  [[nodiscard]] std::string BandFor(Interval total) const;

 private:
  v1::Instrument definition_;
  Interval range_;
  std::vector<Interval> item_ranges_;
  std::map<std::string, size_t> item_by_code_;
  std::vector<std::map<std::string, AnswerKey>> answers_;
};

// All instruments, found by id or LOINC panel code. Immutable; safe to share.
class Catalogue {
 public:
  explicit Catalogue(std::vector<v1::Instrument> instruments);
  // Null if unknown.
  [[nodiscard]] const Scale* Find(const std::string& id_or_code) const;
  // In order of id.
  [[nodiscard]] std::vector<const Scale*> All() const;
  // "gad-7, gds-15, phq-9", for messages.
  [[nodiscard]] std::string Ids() const;

 private:
  std::map<std::string, Scale> scales_;
  std::map<std::string, std::string> id_by_code_;
};

}  // namespace turnstone
