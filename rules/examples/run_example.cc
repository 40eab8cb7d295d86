#include "rules/examples/run_example.h"

#include "rules/examples/ask_rule.h"
#include "rules/examples/example_setup.h"

namespace turnstone {

ExampleRun RunExample(const ExampleCase& example, const Setup& setup,
                      int rule) {
  ExampleRun run;
  const size_t at = example.history.Find(example.asked).value();
  run.truth = AskRule(ExampleSite(setup), rule, example.history, at, &run.trace)
                  .value();
  run.answer = LeadsTo(run.truth);
  return run;
}

v1::ExampleAnswer StatedAnswer(const v1::Example& example) {
  if (example.answer() != v1::EXAMPLE_ANSWER_UNSPECIFIED) {
    return example.answer();
  }
  if (example.shows() == v1::FIRES) return v1::RAISES;
  if (example.shows() == v1::SILENT) return v1::DOES_NOT_RAISE;
  return v1::EXAMPLE_ANSWER_UNSPECIFIED;
}

std::string AnswerInWords(v1::ExampleAnswer answer) {
  switch (answer) {
    case v1::RAISES:
      return "raises";
    case v1::RAISES_FOR_REVIEW:
      return "raises for review";
    default:
      return "does not raise";
  }
}

}  // namespace turnstone
