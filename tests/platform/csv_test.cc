// Tables as RFC 4180 has them; "section 2.n" is the rule of that number there.
#include "platform/csv.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>
#include <string>
#include <vector>

namespace turnstone {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

CsvTable MustParse(const std::string& text) {
  absl::StatusOr<CsvTable> table = ParseCsv(text);
  EXPECT_TRUE(table.ok()) << table.status().ToString();
  return table.ok() ? *std::move(table) : CsvTable{};
}

std::vector<std::vector<std::string>> CellsOf(const CsvTable& table) {
  std::vector<std::vector<std::string>> cells;
  for (const CsvRow& row : table.rows) cells.push_back(row.cells);
  return cells;
}

std::vector<int> LinesOf(const CsvTable& table) {
  std::vector<int> lines;
  for (const CsvRow& row : table.rows) lines.push_back(row.line);
  return lines;
}

struct GoodCase {
  std::string why;
  std::string text;
  std::vector<std::vector<std::string>> cells;
  std::vector<int> lines;
};

class Good : public ::testing::TestWithParam<GoodCase> {};

TEST_P(Good, IsRead) {
  const GoodCase& c = GetParam();
  SCOPED_TRACE(c.why);
  const CsvTable table = MustParse(c.text);
  EXPECT_THAT(table.columns, ElementsAre("a", "b"));
  EXPECT_EQ(CellsOf(table), c.cells);
  EXPECT_EQ(LinesOf(table), c.lines);
}

INSTANTIATE_TEST_SUITE_P(
    Rfc4180, Good,
    ::testing::Values(
        GoodCase{"section 2.1: lines end with CRLF",
                 "a,b\r\n1,2\r\n3,4\r\n",
                 {{"1", "2"}, {"3", "4"}},
                 {2, 3}},
        GoodCase{"section 2.2: the last line need not end",
                 "a,b\r\n1,2",
                 {{"1", "2"}},
                 {2}},
        GoodCase{"section 2.3: only the header", "a,b\r\n", {}, {}},
        GoodCase{"section 2.4: spaces are part of a cell",
                 "a,b\r\n 1 ,  \r\n",
                 {{" 1 ", "  "}},
                 {2}},
        GoodCase{"section 2.5: quotes, or none",
                 "\"a\",b\r\n\"1\",2\r\n",
                 {{"1", "2"}},
                 {2}},
        GoodCase{"section 2.6: commas and line ends in quotes",
                 "a,b\r\n\"1,\r\n2\",\"\n\"\r\n3,4\r\n",
                 {{"1,\r\n2", "\n"}, {"3", "4"}},
                 {2, 5}},
        GoodCase{"section 2.7: two quotes for one",
                 "a,b\r\n\"1\"\"2\",\"\"\"\"\r\n\"\"\"3\"\"\",\"\"\r\n",
                 {{"1\"2", "\""}, {"\"3\"", ""}},
                 {2, 3}},
        GoodCase{"empty cells",
                 "a,b\r\n,\r\n\"\",1\r\n1,",
                 {{"", ""}, {"", "1"}, {"1", ""}},
                 {2, 3, 4}}));

INSTANTIATE_TEST_SUITE_P(
    // Common practice, no source.
    Beyond, Good,
    ::testing::Values(GoodCase{"lines end with LF",
                               "a,b\n1,2\n3,4\n",
                               {{"1", "2"}, {"3", "4"}},
                               {2, 3}},
                      GoodCase{"lines end with CR",
                               "a,b\r1,2\r\"3\r\",4\r",
                               {{"1", "2"}, {"3\r", "4"}},
                               {2, 3}},
                      GoodCase{"empty lines",
                               "\n\na,b\n\n1,2\r\n\r\n\r\n3,4\n\n",
                               {{"1", "2"}, {"3", "4"}},
                               {5, 8}},
                      GoodCase{"a byte order mark",
                               "\xEF\xBB\xBF"
                               "a,b\n1,2\n",
                               {{"1", "2"}},
                               {2}},
                      GoodCase{"a byte order mark before a quote",
                               "\xEF\xBB\xBF\"a\",b\n1,2\n",
                               {{"1", "2"}},
                               {2}},
                      GoodCase{"bytes beyond ASCII",
                               "a,b\n\xC3\xA9,\xFF\n",
                               {{"\xC3\xA9", "\xFF"}},
                               {2}}));

TEST(Csv, OneColumnTellsAnEmptyCellFromAnEmptyLine) {
  const CsvTable table = MustParse("a\n\n\"\"\n1\n");
  EXPECT_THAT(CellsOf(table), ElementsAre(ElementsAre(""), ElementsAre("1")));
  EXPECT_THAT(LinesOf(table), ElementsAre(3, 4));
}

TEST(Csv, FindsColumnsByName) {
  const CsvTable table = MustParse("a,A, a\n");
  EXPECT_EQ(table.Find("a"), 0U);
  EXPECT_EQ(table.Find("A"), 1U);
  EXPECT_EQ(table.Find(" a"), 2U);
  EXPECT_EQ(table.Find("b"), std::nullopt);
}

struct BadCase {
  std::string why;
  std::string text;
  std::string message;
};

class Bad : public ::testing::TestWithParam<BadCase> {};

TEST_P(Bad, IsRefusedNamingTheLine) {
  const BadCase& c = GetParam();
  const absl::Status status = ParseCsv(c.text).status();
  EXPECT_EQ(status.code(), absl::StatusCode::kInvalidArgument) << c.why;
  EXPECT_THAT(std::string(status.message()), StartsWith(c.message)) << c.why;
  // Says what to write, and tells nothing of what cells hold.
  EXPECT_THAT(std::string(status.message()),
              ::testing::ContainsRegex("; (write|put|give|save) "));
  EXPECT_THAT(std::string(status.message()),
              Not(::testing::HasSubstr("secret")));
}

INSTANTIATE_TEST_SUITE_P(
    Texts, Bad,
    ::testing::Values(
        BadCase{"a cell too few", "a,b\n1,2\nsecret\n",
                "line 3: the row has 1 of 2 cells"},
        BadCase{"a cell too many", "a,b\n1,secret,3\n",
                "line 2: the row has 3 of 2 cells"},
        BadCase{"a comma at the end", "a,b\n1,2,\n",
                "line 2: the row has 3 of 2 cells"},
        BadCase{"a line of spaces", "a,b\n  \n",
                "line 2: the row has 1 of 2 cells"},
        BadCase{"after a cell of two lines", "a,b\n\"\n\",2\n1\n",
                "line 4: the row has 1 of 2 cells"},
        BadCase{"a quote never closed", "a,b\n1,\"secret\n3,4\n",
                "line 2: a quote opens a cell"},
        BadCase{"a quote at the very end", "a,b\n1,2\n3,\"",
                "line 3: a quote opens a cell"},
        BadCase{"the closing quote doubled", "a,b\n1,\"secret\"\"\n",
                "line 2: a quote opens a cell"},
        BadCase{"text after quotes", "a,b\n\"1\"secret,2\n",
                "line 2: text after the quote"},
        BadCase{"a space after quotes", "a,b\n\"1\n\" ,2\n",
                "line 3: text after the quote"},
        BadCase{"a quote inside a cell", "a,b\n1,secret\"\n",
                "line 2: a quote inside a cell"},
        BadCase{"a space before quotes", "a,b\n1, \"2\"\n",
                "line 2: a quote inside a cell"},
        BadCase{"one name twice", "a,b,a\n1,2,3\n",
                "line 1: columns 1 and 3 have the same name"},
        BadCase{"a name missing", "\na,,c\n1,2,3\n",
                "line 2: column 2 has no name"},
        BadCase{"an empty name in quotes", "\"\"\n1\n",
                "line 1: column 1 has no name"},
        BadCase{"nothing", "", "line 1: nothing here"},
        BadCase{"only a byte order mark", "\xEF\xBB\xBF",
                "line 1: nothing here"},
        BadCase{"only empty lines", "\n\r\n\n", "line 1: nothing here"},
        BadCase{"a NUL", std::string("a,b\n1,\0\n", 8), "line 2: a NUL byte"},
        BadCase{"UTF-16",
                std::string("\xFF\xFE"
                            "a\0,\0b\0",
                            8),
                "line 1: a NUL byte"}));

// Writes a table as section 2 has it, each cell in quotes or not as fits.
std::string Write(const std::vector<std::vector<std::string>>& rows) {
  std::string text;
  for (const auto& row : rows) {
    for (size_t i = 0; i < row.size(); ++i) {
      if (i > 0) text += ',';
      text += '"';
      for (const char c : row[i]) text += c == '"' ? "\"\"" : std::string(1, c);
      text += '"';
    }
    text += "\r\n";
  }
  return text;
}

TEST(Csv, WhatIsWrittenIsReadBack) {
  std::mt19937 random(4180);
  const std::string letters = "ab,\"\r\n ";
  const auto draw = [&](size_t below) { return random() % below; };
  for (int round = 0; round < 500; ++round) {
    std::vector<std::vector<std::string>> rows(draw(5));
    for (auto& row : rows) {
      row.resize(3);
      for (std::string& cell : row) {
        for (size_t n = draw(6); n > 0; --n) cell += letters[draw(7)];
      }
    }
    auto written = rows;
    written.insert(written.begin(), {"a", "b", "c"});
    EXPECT_EQ(CellsOf(MustParse(Write(written))), rows) << Write(written);
  }
}

TEST(Csv, HostileBytesEndInATableOrAnError) {
  std::mt19937 random(2);
  const std::string letters("a,\"\r\n\0\xEF\xBB\xBF", 9);
  int tables = 0;
  for (int round = 0; round < 20000; ++round) {
    std::string text;
    for (size_t n = random() % 12; n > 0; --n) text += letters[random() % 9];
    const absl::StatusOr<CsvTable> table = ParseCsv(text);
    if (!table.ok()) {
      EXPECT_EQ(table.status().code(), absl::StatusCode::kInvalidArgument);
      continue;
    }
    ++tables;
    EXPECT_THAT(table->columns, Not(IsEmpty()));
    for (const CsvRow& row : table->rows) {
      EXPECT_EQ(row.cells.size(), table->columns.size());
    }
  }
  EXPECT_GT(tables, 100);
}

}  // namespace
}  // namespace turnstone
