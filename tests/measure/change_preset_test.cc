// The published figures on change that we ship. Expected points: clinical
// sources, tables 2.2 and 2.3, each rounded up to whole points.
#include "rules/measure/change_preset.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

TEST(ChangePreset, EveryPublishedFigure) {
  struct Row {
    std::string instrument;
    std::string preset;
    int points;
  };
  const std::vector<Row> rows = {{"phq-9", "kroenke-2001-retest", 7},  // 6.76
                                 {"phq-9", "kroenke-2001-alpha", 6},   // 5.61
                                 {"phq-9", "english-programme", 6},
                                 {"phq-9", "delgadillo-2014", 6},
                                 {"phq-9", "loewe-2004-mcid", 5},
                                 {"gad-7", "spitzer-2006-alpha", 4},   // 3.68
                                 {"gad-7", "spitzer-2006-retest", 6},  // 5.37
                                 {"gad-7", "bischoff-2020", 6},        // 5.59
                                 {"gad-7", "english-programme", 4},
                                 {"gad-7", "delgadillo-2014", 5},
                                 {"gad-7", "toussaint-2020-mcid", 4},
                                 {"who-5", "ten-points", 10}};
  size_t shipped = 0;
  for (const char* id : {"phq-9", "gad-7", "who-5"}) {
    shipped +=
        static_cast<size_t>(LoadScale(id).definition().change_preset_size());
  }
  EXPECT_EQ(shipped, rows.size());
  for (const Row& row : rows) {
    const Scale scale = LoadScale(row.instrument);
    const v1::ChangePreset* preset = scale.FindPreset(row.preset);
    ASSERT_NE(preset, nullptr) << row.preset;
    EXPECT_EQ(PointsOf(*preset), row.points)
        << row.instrument << " " << row.preset;
  }
  EXPECT_EQ(LoadScale("phq-9").FindPreset("none"), nullptr);
}

}  // namespace
}  // namespace turnstone::testing
