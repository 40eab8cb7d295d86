// What nobody finds once the examples fit it. Each is a limit to be known.
// Defects of our own invention.
#include "tests/defects/planted.h"

namespace turnstone {
namespace {

constexpr char kPositiveRule[] = R"(id: "self-harm-positive")";
constexpr char kMissedAfterRule[] = R"(id: "missed-after-self-harm")";
constexpr char kAboveRule[] = R"(id: "score-above-range")";
constexpr char kItemRow[] =
    "{ item { self_harm: true at_least { value: 1 } } }";

}  // namespace

std::vector<Defect> FoundByNobody() {
  return {
      // Says too much: a safety alert on every form that is answered.
      {"PositiveItemDropped",
       kPack,
       {{kPositiveRule, std::string("condition ") + kItemRow, ""}}},
      {"MissedAfterSelfHarmLost", kPack, {{kMissedAfterRule, "", ""}}},
      // The same as without the second part.
      {"PartMakesNoDifference",
       kPack,
       {{kAboveRule,
         R"(score { instrument: "phq-9" at_least { setting: "above-range" } })",
         R"(any_of {
           condition { score { instrument: "phq-9" at_least { value: 20 } } }
           condition { score { instrument: "phq-9" at_least { value: 25 } } }
         })"}}},
      // A site may well set it so; every rule moves with it.
      {"LowerEndMoved",
       kPack,
       {{R"(name: "programme-lower")", "value: 10", "value: 11"}}},
  };
}

}  // namespace turnstone
