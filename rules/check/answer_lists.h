// The answers an instrument's questions take, and what they score.
#pragma once

#include <map>
#include <set>
#include <string>

#include "rules/check/require.h"
#include "turnstone/v1/instrument.pb.h"

namespace turnstone {

// Made for one instrument; REQUIRES that it outlive this.
class AnswerLists {
 public:
  // Reports what is wrong with the lists themselves.
  AnswerLists(const v1::Instrument& instrument, const Place& file);
  // Reports what is wrong with the answers of `item`, which stands at `place`.
  void CheckUse(const v1::Item& item, const Place& place);
  // Reports lists that no item used.
  void CheckAllUsed() const;

 private:
  struct List {
    const v1::AnswerList* content;
    Place place;
    Names codes;
  };
  void ReportUnknown(const std::string& id, const Place& place) const;

  std::map<std::string, List> lists_;
  std::set<std::string> used_;
  std::set<std::string> scored_;  // used by an item that counts
};

}  // namespace turnstone
