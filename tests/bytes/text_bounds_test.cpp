#include "scanproc/bytes/text_bounds.h"

#include <gtest/gtest.h>

#include <string>

namespace canewise {
namespace {

TEST(TextBounds, WhatADocumentIsMadeOfIsCounted) {
  const TextParts json = parts_of(R"({"a": [1, 2.5, 3], "b": {"c": null}})");
  EXPECT_EQ(json.containers, 3U);
  EXPECT_EQ(json.keys, 3U);
  EXPECT_EQ(json.values, 3U) << "commas: one fewer than values in each list";
  const TextParts toml = parts_of("[a.b]\nc = 1.5\nd = [\n1,\n2]\n");
  EXPECT_EQ(toml.containers, 2U);
  EXPECT_EQ(toml.keys, 2U);
  EXPECT_EQ(toml.values, 1U);
  EXPECT_EQ(parts_of("").document_bytes(), 0U);
}

TEST(TextBounds, ThePathIsTheLongestBetweenPlacesWhereAKeyMayBegin) {
  EXPECT_EQ(parts_of("a.b.c = 1\n").longest_path, 2U);
  EXPECT_EQ(parts_of("a . b . c . d = 1\n").longest_path, 3U) << "blanks do not end a key";
  EXPECT_EQ(parts_of("[a.b.c.d.e").longest_path, 4U) << "nor does the text's end hide one";
  std::string numbers;
  for (int k = 0; k < 1000; ++k) numbers += "0.5, ";
  EXPECT_EQ(parts_of(numbers).longest_path, 1U);
}

TEST(TextBounds, TheDocumentsBytesAreCountedByItsParts) {
  EXPECT_EQ(parts_of("[[],[]]").document_bytes(), 3U * 64U + 24U);
  EXPECT_EQ(parts_of("{\"a\":1}").document_bytes(), 64U + 120U);
}

}  // namespace
}  // namespace canewise
