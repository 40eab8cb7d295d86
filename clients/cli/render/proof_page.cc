#include "clients/cli/render/proof_page.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "clients/cli/json_line.h"
#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"
#include "rules/prove/big_count.h"

namespace turnstone::cli {
namespace {

constexpr size_t kBeside = 13;

const char* ProofWord(ProofResult result) {
  switch (result) {
    case ProofResult::kHolds:
      return "holds";
    case ProofResult::kFails:
      return "FAILS";
    case ProofResult::kNotDecided:
      break;
  }
  return "not decided";
}

// "58,593,918".
std::string Grouped(uint64_t number) {
  const std::string digits = absl::StrCat(number);
  std::string text;
  for (size_t i = 0; i < digits.size(); ++i) {
    if (i > 0 && (digits.size() - i) % 3 == 0) text += ',';
    text += digits[i];
  }
  return number == kUncounted ? absl::StrCat(text, " or more") : text;
}

std::string Effort(uint64_t cases, uint64_t evaluations, uint64_t states,
                   double seconds) {
  return absl::StrCat(Grouped(cases), " cases, ", Grouped(evaluations),
                      " put to the rules, ", Grouped(states), " states, ",
                      absl::StrFormat("%.1f s", seconds));
}

// `text` beside `label`.
std::string LabelledText(const std::string& label, const std::string& text) {
  return WrapAfter(Pad(label, kBeside), CleanLine(text), kBeside);
}

std::string CaseText(const Counterexample& example) {
  std::string text = LabelledText("", "in this case:");
  for (const std::string& words : example.words) {
    text +=
        WrapAfter(std::string(kBeside + 2, ' '), CleanLine(words), kBeside + 4);
  }
  text += LabelledText("  expected", example.expected);
  text += LabelledText("  but", example.found);
  for (const v1::Event& event : example.events) text += JsonLine(event);
  return text;
}

std::string ProofText(const Proof& proof, double seconds) {
  std::string text = LabelledText(ProofWord(proof.result), proof.id);
  text += LabelledText("", proof.title);
  if (!proof.why.empty()) text += LabelledText("  because", proof.why);
  if (proof.cases > 0) {
    text += LabelledText(
        "", Effort(proof.cases, proof.evaluations, proof.states, seconds));
  }
  if (proof.counterexample) text += CaseText(*proof.counterexample);
  return text;
}

nlohmann::ordered_json CaseJson(const Counterexample& example) {
  nlohmann::ordered_json json = {{"events", nlohmann::ordered_json::array()},
                                 {"words", nlohmann::ordered_json::array()},
                                 {"expected", CleanLine(example.expected)},
                                 {"found", CleanLine(example.found)}};
  for (const v1::Event& event : example.events) {
    json["events"].push_back(nlohmann::ordered_json::parse(JsonLine(event)));
  }
  for (const std::string& words : example.words) {
    json["words"].push_back(CleanLine(words));
  }
  return json;
}

}  // namespace

std::string ProofPage(const std::vector<SiteProofs>& all) {
  std::string page;
  for (const SiteProofs& each : all) {
    absl::StrAppend(&page, CleanLine(each.of), "\n\n");
    for (size_t i = 0; i < each.proofs.size(); ++i) {
      absl::StrAppend(&page, ProofText(each.proofs[i], each.seconds[i]), "\n");
    }
  }
  return page;
}

std::string ProofJson(const SiteProofs& proofs) {
  std::string lines;
  for (size_t i = 0; i < proofs.proofs.size(); ++i) {
    const Proof& proof = proofs.proofs[i];
    nlohmann::ordered_json json = {{"of", CleanLine(proofs.of)},
                                   {"set", CleanLine(proof.set)},
                                   {"id", CleanLine(proof.id)},
                                   {"title", CleanLine(proof.title)},
                                   {"result", ProofWord(proof.result)},
                                   {"why", CleanLine(proof.why)},
                                   {"cases", proof.cases},
                                   {"evaluations", proof.evaluations},
                                   {"states", proof.states},
                                   {"seconds", proofs.seconds[i]}};
    if (proof.counterexample) {
      json["counterexample"] = CaseJson(*proof.counterexample);
    }
    absl::StrAppend(&lines, json.dump(), "\n");
  }
  return lines;
}

std::string CounterexampleLines(const std::vector<SiteProofs>& all) {
  std::string lines;
  for (const SiteProofs& each : all) {
    for (const Proof& proof : each.proofs) {
      if (!proof.counterexample) continue;
      for (const v1::Event& event : proof.counterexample->events) {
        lines += JsonLine(event);
      }
    }
  }
  return lines;
}

std::string ProofSummary(const std::vector<SiteProofs>& all) {
  Proof sum;
  double seconds = 0;
  std::array<int, 3> results{};
  long long properties = 0;
  for (const SiteProofs& each : all) {
    for (const Proof& proof : each.proofs) {
      ++properties;
      ++results.at(static_cast<size_t>(proof.result));
      sum.cases = Plus(sum.cases, proof.cases);
      sum.evaluations = Plus(sum.evaluations, proof.evaluations);
      sum.states = Plus(sum.states, proof.states);
    }
    for (const double one : each.seconds) seconds += one;
  }
  return absl::StrCat(properties, properties == 1 ? " property" : " properties",
                      ": ", results[0], " hold, ", results[1], " fail, ",
                      results[2], " are not decided; ",
                      Effort(sum.cases, sum.evaluations, sum.states, seconds));
}

}  // namespace turnstone::cli
