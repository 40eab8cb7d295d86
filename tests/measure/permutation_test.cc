// The distribution of S without ties, against the tables in print.
#include "rules/measure/permutation.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace turnstone {
namespace {

// Probability that S is at least 0, 1 ..., for `n` different values on as many
// days.
std::vector<double> Upper(int n) {
  const std::vector<int> singles(static_cast<size_t>(n), 1);
  const auto distribution = DistributionOfS(singles, singles);
  std::vector<double> upper(static_cast<size_t>(distribution->largest) + 1);
  double sum = 0;
  for (size_t s = upper.size(); s-- > 0;) {
    sum += distribution->probability[upper.size() - 1 + s];
    upper[s] = sum;
  }
  return upper;
}

struct TableRow {
  int n;
  size_t first_s;  // then every second one, up to the largest
  std::vector<double> upper;
};

TEST(DistributionOfS, TableOfUpperProbabilities) {
  // Gilbert 1987, table A18 (Kendall's table of S), to the digits printed;
  // recomputed from the Mahonian numbers.
  const std::vector<TableRow> table = {
      {3, 1, {.5, .1667}},
      {4, 0, {.625, .375, .1667, .0417}},
      {5, 0, {.592, .408, .242, .117, .0417, .00833}},
      {6, 1, {.5, .360, .235, .136, .0681, .0278, .00833, .00139}},
      {7,
       1,
       {.5, .386, .281, .191, .119, .0681, .0345, .0151, .00536, .00139,
        .000198}},
      {8,
       0,
       {.548, .452, .360, .274, .199, .138, .0894, .0543, .0305, .0156, .00707,
        .00275, .000868, .000198, 2.48e-5}},
      {9,
       0,
       {.540, .460, .381, .306, .238, .179, .130, .0901, .0597, .0376, .0223,
        .0124, .00633, .00294, .00121, .000427, .000121, 2.48e-5, 2.76e-6}},
      {10, 1, {.5,      .431,    .364,    .300,    .242,   .190,
               .146,    .108,    .0779,   .0542,   .0363,  .0233,
               .0143,   .00833,  .00457,  .00234,  .00111, .000473,
               .000179, 5.76e-5, 1.49e-5, 2.76e-6, 2.76e-7}},
  };
  for (const TableRow& row : table) {
    const std::vector<double> upper = Upper(row.n);
    size_t s = row.first_s;
    for (const double p : row.upper) {
      // Half a unit of the third digit.
      const double rounding =
          0.5001 * std::pow(10.0, std::floor(std::log10(p)) - 2);
      EXPECT_NEAR(upper.at(s), p, rounding) << row.n << " values, S " << s;
      s += 2;
    }
    EXPECT_EQ(s, upper.size() + 1) << "the table is whole";
  }
}

// The smallest S that comes about and is as rare as `p`; none if 0.
int Critical(int n, double p) {
  const std::vector<double> upper = Upper(n);
  // All S are as odd or even as the largest.
  for (size_t s = (upper.size() - 1) % 2; s < upper.size(); s += 2) {
    if (upper[s] <= p) return static_cast<int>(s);
  }
  return 0;
}

TEST(DistributionOfS, CriticalValues) {
  // Kendall's table of S: the smallest S that is no more likely than 1 in 20.
  const std::vector<int> one_sided = {6, 8, 11, 13, 16, 18, 21, 23, 26};
  for (int n = 4; n <= 12; ++n) {
    EXPECT_EQ(Critical(n, .05), one_sided.at(static_cast<size_t>(n - 4))) << n;
  }
  // With three or four values there is none, two-sided.
  const std::vector<int> two_sided = {0, 0, 10, 13, 15, 18, 20, 23, 27, 30};
  for (int n = 3; n <= 12; ++n) {
    EXPECT_EQ(Critical(n, .025), two_sided.at(static_cast<size_t>(n - 3))) << n;
  }
}

// By hand, for three days: of the orders aab, aba and baa each one has S 2, 0
// or -2; so have those of abb.
TEST(KnownDistributions, AreTheSameHoweverManyWereAskedFor) {
  const std::vector<double> thirds = {0, 1. / 3, 0, 1. / 3, 0, 1. / 3, 0};
  KnownDistributions known;
  for (int n = 1; n <= 2500; ++n) {
    // All on one day: there is no trend, or it is too much to go through.
    const auto& one_day = known.Of({n}, {n});
    if (one_day.has_value()) {
      EXPECT_EQ(one_day->probability[one_day->probability.size() / 2], 1);
    }
    for (const std::vector<int>& ties : {std::vector{2, 1}, {1, 2}}) {
      const auto& distribution = known.Of({1, 1, 1}, ties);
      ASSERT_EQ(distribution->largest, 3);
      for (size_t s = 0; s < thirds.size(); ++s) {
        ASSERT_DOUBLE_EQ(distribution->probability[s], thirds[s]) << n;
      }
    }
  }
}

}  // namespace
}  // namespace turnstone
