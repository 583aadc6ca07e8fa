#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <string>
#include <utility>
#include <vector>

// The library's header needs size_t and FILE before it.
#include <jpeglib.h>

#include "fixtures/write_png.h"
#include "fixtures/write_surface.h"
#include "scanproc/bytes/zip_archive.h"

namespace canewise::test {

inline constexpr std::size_t kMega = 1'000'000;

/// A file of `begin`, so many times `again`, and `end`.
struct Repeated {
  std::string begin, again;
  std::size_t times;
  std::string end;
};

inline void write(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

inline void write(const std::filesystem::path& path, const Repeated& content) {
  std::ofstream file(path, std::ios::binary);
  file << content.begin;
  std::string piece;
  while (piece.size() < (1U << 16U)) piece += content.again;
  const std::size_t in_piece = piece.size() / content.again.size();
  for (std::size_t left = content.times; left > 0;) {
    const std::size_t now = std::min(left, in_piece);
    file.write(piece.data(), static_cast<std::streamsize>(now * content.again.size()));
    left -= now;
  }
  file << content.end;
}

/// The bytes of a little-endian number.
template <typename T>
std::string raw(T value) {
  return {reinterpret_cast<const char*>(&value), sizeof(value)};
}

inline std::string pcd_head(const std::string& kind, const std::string& points, const std::string& data) {
  const std::string size = kind == "F" ? "4 4 4" : "1 1 1";
  return "VERSION 0.7\nFIELDS x y z\nSIZE " + size + "\nTYPE " + kind + " " + kind + " " + kind +
         "\nCOUNT 1 1 1\nWIDTH " + points + "\nHEIGHT 1\nPOINTS " + points + "\nDATA " + data + "\n";
}

/// Millions of equal points of three bytes in an LZF stream of some kilobytes: each token repeats the byte before it
/// 264 times.
inline std::string lzf_bomb() {
  constexpr std::uint32_t tokens = 100'000;
  constexpr std::uint32_t unpacked = 3 + 264 * tokens;
  std::string packed("\x02\0\0\0", 4);
  for (std::uint32_t k = 0; k < tokens; ++k) packed.append("\xE0\xFF\0", 3);
  return pcd_head("U", std::to_string(unpacked / 3), "binary_compressed") +
         raw(static_cast<std::uint32_t>(packed.size())) + raw(unpacked) + packed;
}

/// A surface of so many columns and rows of `type`, all nought, in an archive that packs it to nothing. With `valid`,
/// every point is marked as not measured.
inline std::string x3p_of_nothing(std::size_t columns, std::size_t rows, const std::string& type, bool valid) {
  const std::size_t size = type == "I" ? 2 : 8;
  const std::string data(columns * rows * size, '\0'), mask((columns * rows + 7) / 8, '\0');
  const std::string validity = valid ? "<ValidPointsLink>v</ValidPointsLink><MD5ChecksumValidPoints>" +
                                           fixtures::md5_hex(mask) + "</MD5ChecksumValidPoints>"
                                     : "";
  const std::string xml =
      "<p:ISO5436_2 xmlns:p='x'><Record1><Axes><CX><AxisType>I</AxisType><Increment>1e-4</Increment></CX><CY>"
      "<AxisType>I</AxisType><Increment>1e-4</Increment></CY><CZ><AxisType>A</AxisType><DataType>" +
      type + "</DataType><Increment>1e-6</Increment></CZ></Axes></Record1><Record3><MatrixDimension><SizeX>" +
      std::to_string(columns) + "</SizeX><SizeY>" + std::to_string(rows) +
      "</SizeY><SizeZ>1</SizeZ></MatrixDimension><DataLink><PointDataLink>d</PointDataLink><MD5ChecksumPointData>" +
      fixtures::md5_hex(data) + "</MD5ChecksumPointData>" + validity + "</DataLink></Record3></p:ISO5436_2>";
  return zip_bytes({{"main.xml", xml}, {"d", data}, {"v", mask}});
}

/// An SDF of 8-bit heights, each of them 'not measured'.
inline Repeated sdf_of_nothing(std::uint32_t columns, std::uint32_t rows) {
  constexpr char no_compression = 0, eight_bits = 4, no_check = 0;
  std::string head = "bISO-2.0" + std::string(10 + 12 + 12, ' ') + raw(columns) + raw(rows);
  for (const double scale : {1e-6, 1e-6, 1e-9, -1.0}) head += raw(scale);
  head += no_compression;
  head += eight_bits;
  head += no_check;
  return {head, "\x80", std::size_t{columns} * rows, ""};
}

/// A TIFF directory with the tags given: tag, type (3: 16 bits, 4: 32 bits), count, value.
struct TiffTag {
  std::uint16_t tag, type;
  std::uint32_t count, value;
};
inline std::string tiff_of(const std::vector<TiffTag>& tags, const std::string& data) {
  constexpr std::uint32_t head_bytes = 8;
  std::string bytes = std::string("II*\0", 4) + raw(static_cast<std::uint32_t>(head_bytes + data.size())) + data;
  bytes += raw(static_cast<std::uint16_t>(tags.size()));
  for (const TiffTag& tag : tags) bytes += raw(tag.tag) + raw(tag.type) + raw(tag.count) + raw(tag.value);
  return bytes + raw(std::uint32_t{0});
}

/// 32-bit heights without a strip that holds them, in rows of one strip each or all in one.
inline std::string tiff_of_many_strips(std::uint32_t columns, std::uint32_t rows, std::uint32_t rows_per_strip) {
  const std::uint32_t strips = (rows + rows_per_strip - 1) / rows_per_strip;
  return tiff_of({{256, 4, 1, columns},
                  {257, 4, 1, rows},
                  {258, 3, 1, 32},
                  {259, 3, 1, 8},
                  {273, 4, strips, 8},
                  {277, 3, 1, 1},
                  {278, 4, 1, rows_per_strip},
                  {279, 4, strips, 8},
                  {339, 3, 1, 3}},
                 std::string(4096, 'x'));
}

inline std::uint32_t crc_of(const std::string& bytes) {
  std::uint32_t crc = 0xFFFFFFFFU;
  for (const char c : bytes) {
    crc ^= static_cast<unsigned char>(c);
    for (int k = 0; k < 8; ++k) crc = (crc >> 1U) ^ ((crc & 1U) != 0 ? 0xEDB88320U : 0U);
  }
  return ~crc;
}

inline std::string big_endian(std::uint32_t value) {
  std::string bytes;
  for (int shift = 24; shift >= 0; shift -= 8)
    bytes += static_cast<char>(value >> static_cast<unsigned>(shift) & 0xFFU);
  return bytes;
}

inline std::string png_chunk(const std::string& name, const std::string& data) {
  return big_endian(static_cast<std::uint32_t>(data.size())) + name + data + big_endian(crc_of(name + data));
}

constexpr const char* kPngMagic = "\x89PNG\r\n\x1a\n";

inline std::string png_header(std::uint32_t columns, std::uint32_t rows, char bits) {
  return kPngMagic + png_chunk("IHDR", big_endian(columns) + big_endian(rows) + std::string{bits, 0, 0, 0, 0});
}

inline std::string black_png(std::size_t columns, std::size_t rows, int bits) {
  return fixtures::grey_png(columns, rows, bits,
                            [&](std::size_t) { return std::vector<std::uint16_t>(columns, std::uint16_t{0}); });
}

/// A small image whose remarks each unpack to eight megabytes: taken from the compressed image of a black PNG.
inline std::string png_of_remarks(std::size_t remarks) {
  const std::string image = black_png(16, 12, 16), black = black_png(2000, 4000, 8);
  const std::size_t data_at = black.find("IDAT"), behind_header = image.find("IHDR") + 4 + 13 + 4;
  std::uint32_t length = 0;
  for (std::size_t k = 4; k > 0; --k) length = length << 8U | static_cast<unsigned char>(black[data_at - k]);
  const std::string remark = png_chunk("zTXt", std::string("note\0\0", 6) + black.substr(data_at + 4, length));
  std::string bytes = image.substr(0, behind_header);
  for (std::size_t k = 0; k < remarks; ++k) bytes += remark;
  return bytes + image.substr(behind_header);
}

/// A black photograph; its scans come one after the other, each over the whole picture, if `progressive`.
inline std::string black_jpeg(unsigned columns, unsigned rows, bool progressive) {
  jpeg_compress_struct info{};
  jpeg_error_mgr errors{};
  info.err = jpeg_std_error(&errors);
  jpeg_create_compress(&info);
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  jpeg_mem_dest(&info, &bytes, &size);
  info.image_width = columns;
  info.image_height = rows;
  info.input_components = 3;
  info.in_color_space = JCS_RGB;
  jpeg_set_defaults(&info);
  if (progressive) jpeg_simple_progression(&info);
  jpeg_start_compress(&info, TRUE);
  std::vector<unsigned char> black(std::size_t{3} * columns, 0);
  unsigned char* row = black.data();
  while (info.next_scanline < rows) jpeg_write_scanlines(&info, &row, 1);
  jpeg_finish_compress(&info);
  std::string all(reinterpret_cast<char*>(bytes), size);
  jpeg_destroy_compress(&info);
  std::free(bytes);
  return all;
}

/// A folder of depth frames for a camera of that size.
inline void write_depth_folder(const std::filesystem::path& folder, std::size_t columns, std::size_t rows,
                               const std::function<std::string()>& frame, std::size_t frames = 1) {
  std::filesystem::create_directories(folder);
  write(folder / "camera.toml", "width = " + std::to_string(columns) + "\nheight = " + std::to_string(rows) +
                                    "\nfx = 500\nfy = 500\ncx = 10\ncy = 10\n");
  const std::string bytes = frame();
  for (std::size_t k = 0; k < frames; ++k) write(folder / ("frame-" + std::to_string(k) + ".png"), bytes);
}

}  // namespace canewise::test
