// Whole files with lists before, among and behind the vertices: tests/clouds/ply_test.cpp.
#include "scanproc/clouds/ply_body.h"

#include <gtest/gtest.h>

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tests/bytes/file_bytes.h"
#include "tests/support/refusals.h"

namespace canewise {
namespace {

PlyElement element(const std::string& name, std::uint64_t count, std::vector<PlyProperty> properties) {
  return {name, count, std::move(properties)};
}
PlyProperty scalar(const std::string& name, ScalarType type) { return {name, type}; }
PlyProperty list(const std::string& name, ScalarType count_type, ScalarType type) {
  return {name, type, true, count_type};
}
std::string place_of(const std::string& name, std::uint64_t index) {
  const PlyElement e = element(name, 9, {});
  return phrase(PlyRow{&e, index}.place());
}

/// A file that stands for the body's in refusals, or holds it.
class PlyBody : public testing::Test {
 protected:
  const ScanFile& file_with(const std::string& bytes) {
    file_.emplace(folder_.file("scan.ply", bytes));
    return *file_;
  }
  test::Refusal refusal_of(const std::function<void()>& work) {
    test::Refusal refusal = test::refusal_of(work);
    EXPECT_EQ(refusal.file, (folder_.path() / "scan.ply").string());
    return refusal;
  }

 private:
  test::TempFolder folder_;
  std::optional<ScanFile> file_;
};

TEST_F(PlyBody, APlaceIsCountedFromOneAndNamedForPeople) {
  EXPECT_EQ(place_of("vertex", 2), "point 3");
  EXPECT_EQ(place_of("face", 0), "face 1");
  EXPECT_EQ(place_of("strip", 2), "row 3 of its element 'strip'");
}

TEST_F(PlyBody, TextRowsGiveTheirValuesInTurn) {
  PlyAsciiBody body(file_with("x"), "1.5 -2 2 8 9 4\n\t7 0 3e2\n");
  const PlyElement rows = element("vertex", 2, {scalar("a", ScalarType::float32)});
  const PlyProperty numbers = list("l", ScalarType::uint8, ScalarType::int32);
  body.begin(rows);
  body.begin_row(0);
  EXPECT_EQ(body.value(ScalarType::float32), 1.5);
  body.skip(ScalarType::float32, 1);
  const std::uint64_t entries = body.list_size(numbers);
  EXPECT_EQ(entries, 2U);
  body.skip(ScalarType::int32, entries);
  EXPECT_EQ(body.value(ScalarType::float32), 4.0);
  body.begin_row(1);
  EXPECT_EQ(body.row().index, 1U);
  EXPECT_EQ(body.value(ScalarType::float32), 7.0);
  EXPECT_EQ(body.list_size(numbers), 0U);
  EXPECT_EQ(body.value(ScalarType::float32), 300.0);
}

TEST_F(PlyBody, TextHasRoomForAsManyRowsAsItsCharactersAllow) {
  // Two numbers take at least three characters.
  const std::vector<PlyProperty> two{scalar("a", ScalarType::float32), scalar("b", ScalarType::float32)};
  const PlyElement fits = element("vertex", 2, two), too_many = element("vertex", 3, two);
  PlyAsciiBody body(file_with("x"), "1 2\n3 4");
  body.begin(fits);
  body.skip_rows(fits);
  const test::Refusal refusal = refusal_of([&] { PlyAsciiBody(file_with("x"), "1 2\n3 4").begin(too_many); });
  EXPECT_EQ(refusal.id, "ply.short_text");
  EXPECT_EQ(refusal.number("promised"), 3.0);
  EXPECT_EQ(refusal.number("room"), 2.0);
}

TEST_F(PlyBody, TextThatIsMissingOrNoNumberIsRefusedWithItsPlace) {
  const PlyElement rows = element("face", 2, {scalar("a", ScalarType::int32)});
  const PlyProperty numbers = list("corners", ScalarType::uint8, ScalarType::int32);
  const auto second_row = [&](const std::string& line, const auto& work) {
    return refusal_of([&] {
      const std::string text = "1\n" + line;
      PlyAsciiBody body(file_with("x"), text);
      body.begin(rows);
      body.begin_row(0);
      body.begin_row(1);
      work(body);
    });
  };
  const auto value = [](PlyAsciiBody& body) { (void)body.value(ScalarType::int32); };
  const test::Refusal word = second_row("two\n", value);
  EXPECT_EQ(word.id, "ply.no_number");
  EXPECT_EQ(word.text("word"), "two");
  EXPECT_EQ(std::get<Messages>(word.arguments.at("place")).front(), (PlyRow{&rows, 1}.place()));
  EXPECT_EQ(second_row(" \n", value).id, "ply.few_numbers");
  const test::Refusal few = second_row("5 6\n", [](PlyAsciiBody& body) { body.skip(ScalarType::int32, 3); });
  EXPECT_EQ(few.id, "ply.few_numbers");
  for (const char* count : {"-1\n", "1.5\n", "4294967296\n"}) {
    const test::Refusal size = second_row(count, [&](PlyAsciiBody& body) { (void)body.list_size(numbers); });
    EXPECT_EQ(size.id, "ply.impossible_list") << count;
    EXPECT_EQ(size.text("list"), "corners");
  }
  const test::Refusal end = second_row("", value);
  EXPECT_EQ(end.id, "ply.ends_early");
  EXPECT_EQ(end.number("rows"), 1.0);
  EXPECT_EQ(end.number("promised"), 2.0);
}

TEST_F(PlyBody, BinaryValuesComeInEitherByteOrder) {
  const std::string bytes("head\x01\x02\xFF\xFE\x3F\xC0\0\0", 12);
  PlyBinaryBody big(file_with(bytes), 4, true);
  EXPECT_EQ(big.value(ScalarType::uint16), 258.0);
  EXPECT_EQ(big.value(ScalarType::int16), -2.0);
  EXPECT_EQ(big.value(ScalarType::float32), 1.5);
  EXPECT_EQ(big.offset(), 12U);
  PlyBinaryBody little(file_with(bytes), 4, false);
  EXPECT_EQ(little.value(ScalarType::uint16), 513.0);
  EXPECT_EQ(little.value(ScalarType::int16), -257.0);
}

TEST_F(PlyBody, BinaryValuesCrossTheReadersPieces) {
  // A piece has a quarter of a mebibyte; the odd byte at the start puts a value across each of its ends.
  constexpr std::uint32_t count = 200000;
  std::string bytes = "x";
  for (std::uint32_t i = 0; i < count; ++i) {
    const std::uint32_t value = i * 2654435761U;
    bytes.append(reinterpret_cast<const char*>(&value), sizeof(value));
  }
  PlyBinaryBody body(file_with(bytes), 1, false);
  std::size_t wrong = 0;
  for (std::uint32_t i = 0; i < count; ++i) {
    if (i % 50000 == 49999) {
      body.skip(ScalarType::uint8, 4);
      continue;
    }
    if (body.value(ScalarType::uint32) != static_cast<double>(i * 2654435761U)) ++wrong;
  }
  EXPECT_EQ(wrong, 0U);
  EXPECT_EQ(body.offset(), bytes.size());
}

TEST_F(PlyBody, BinaryRowsAreSteppedOverWithTheirLists) {
  // Two rows: a byte and a list of two-byte numbers, of two and of none. What follows is where they end.
  const PlyElement rows =
      element("strip", 2, {scalar("a", ScalarType::uint8), list("l", ScalarType::uint8, ScalarType::int16)});
  PlyBinaryBody body(file_with(std::string("\7\2AABB\7\0\x2A", 9)), 0, false);
  body.skip_rows(rows);
  EXPECT_EQ(body.offset(), 8U);
  EXPECT_EQ(body.value(ScalarType::uint8), 42.0);
}

TEST_F(PlyBody, BinaryHasRoomForAsManyRowsAsItsBytesAllow) {
  const std::vector<PlyProperty> xy{scalar("x", ScalarType::float32), scalar("y", ScalarType::float32)};
  const PlyElement fits = element("vertex", 2, xy), too_many = element("vertex", 3, xy);
  const std::string bytes(3 + 23, 'b');  // A header of three, then one byte less than three rows.
  PlyBinaryBody body(file_with(bytes), 3, false);
  body.begin(fits);
  const test::Refusal refusal = refusal_of([&] { body.begin(too_many); });
  EXPECT_EQ(refusal.id, "ply.short");
  EXPECT_EQ(refusal.number("promised"), 3.0);
  EXPECT_EQ(refusal.number("room"), 2.0);
}

TEST_F(PlyBody, ABinaryBodyThatEndsEarlyNamesItsRow) {
  const PlyElement rows = element("face", 4, {list("corners", ScalarType::int8, ScalarType::int32)});
  PlyBinaryBody body(file_with(std::string("\2bbbbbbbb\3bbbbbbbbbbb", 21)), 0, false);
  const test::Refusal end = refusal_of([&] { body.skip_rows(rows); });
  EXPECT_EQ(end.id, "ply.ends_early");
  EXPECT_EQ(end.number("rows"), 1.0) << "the second one lacks a byte";
  EXPECT_EQ(end.number("promised"), 4.0);
  PlyBinaryBody negative(file_with("\xff"
                                   "bbbb"),
                         0, false);
  const test::Refusal size = refusal_of([&] { negative.skip_rows(element("face", 1, rows.properties)); });
  EXPECT_EQ(size.id, "ply.impossible_list");
  EXPECT_EQ(size.text("list"), "corners");
}

}  // namespace
}  // namespace canewise
