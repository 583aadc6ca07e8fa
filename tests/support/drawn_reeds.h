#pragma once

#include <random>

#include "fixtures/families.h"
#include "tests/support/scans.h"

namespace canewise::test {

/// A reed and its scan that nobody designed: everything drawn by seed from fixtures/families.
struct DrawnScan {
  const Instrument* instrument = nullptr;
  fixtures::ReedShape shape;
  fixtures::Reed reed;
  fixtures::ScannerModel scanner;
  fixtures::SceneOptions scene;
};

inline DrawnScan drawn_scan(fixtures::ScannerKind kind, std::uint64_t seed) {
  std::mt19937_64 random(seed * 104729 + static_cast<std::uint64_t>(kind));
  const Instrument& instrument = kInstruments.at(seed % 2 == 0 ? 0 : (seed / 2) % kInstruments.size());
  const fixtures::ReedShape shape = fixtures::draw_shape(instrument, random);
  const fixtures::Reed reed(shape, fixtures::draw_cane(fixtures::Laws::as_stated, random));
  const fixtures::ScannerModel scanner = fixtures::draw_scanner(kind, fixtures::Laws::as_stated, random);
  return {&instrument, shape, reed, scanner, fixtures::draw_scene(fixtures::Laws::as_stated, random)};
}

inline Measurement measure_drawn(const DrawnScan& drawn, std::uint64_t seed) {
  Measurement m;
  fixtures::GeneratedScan scan = fixtures::scan_reed(drawn.reed, drawn.scanner, drawn.scene, seed);
  m.true_reed_from_scan = scan.reed_from_scan;
  m.aligned = align(std::move(scan.cloud), {}, drawn.instrument);
  m.map = measure_thickness(m.aligned, {});
  m.assessment = assess({.map = m.map, .aligned = m.aligned, .instrument = *drawn.instrument});
  return m;
}

}  // namespace canewise::test
