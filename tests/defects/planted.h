// Defects planted in what we ship, and who must find each.
#pragma once

#include <map>
#include <ostream>
#include <string>
#include <vector>

namespace turnstone {

inline constexpr char kPack[] = "/rules/packs/home-visits.textproto";
inline constexpr char kSafety[] = "/rules/properties/safety.textproto";
inline constexpr char kSite[] = "/deploy/config/sites/pebble-bay.textproto";

// One change of a text.
struct Edit {
  // In the block of the file that holds this: `id: "self-harm-positive"`.
  std::string block;
  std::string from;  // its first place in the block; empty: the whole block
  std::string to;
};

struct Defect {
  std::string name;  // of the test
  std::string file;
  std::vector<Edit> edits;
  // Of the finding or, for the proofs, of the property or division that must
  // fail. Empty: nobody does.
  std::string found = {};
};

inline void PrintTo(const Defect& defect, std::ostream* out) {
  *out << defect.name;
}

// By `rules check`, reading the files.
[[nodiscard]] std::vector<Defect> FoundByReading();
// By `rules check`, trying the rules out with their examples.
[[nodiscard]] std::vector<Defect> FoundByTrying();
// The same, whatever the examples say: there are none left.
[[nodiscard]] std::vector<Defect> FoundWithoutExamples();
// By `rules prove`. What the examples say plays no part.
[[nodiscard]] std::vector<Defect> FoundByProof();
// Once the examples are gone, too: known limits.
[[nodiscard]] std::vector<Defect> FoundByNobody();

// One after the other.
[[nodiscard]] std::vector<Defect> Joined(
    const std::vector<std::vector<Defect>>& parts);

using ShippedFiles = std::map<std::string, std::string>;

// Text by path, as shipped; paths begin as those above.
[[nodiscard]] ShippedFiles ReadShipped();
// Makes the changes. Fails the test where one finds no place or changes
// nothing.
void Plant(const Defect& defect, ShippedFiles& files);
// Leaves, of the rules, those alone that `edits` are about and, if `divided`,
// those of the division: the others would only take time.
void KeepRulesOf(const std::vector<Edit>& edits, bool divided,
                 ShippedFiles& files);
// Takes every example out of the pack.
void StripExamples(ShippedFiles& files);

}  // namespace turnstone
