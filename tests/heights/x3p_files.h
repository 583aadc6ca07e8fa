#pragma once

#include <fmt/format.h>

#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "fixtures/write_surface.h"
#include "scanproc/heights/x3p.h"
#include "tests/bytes/file_bytes.h"
#include "tests/support/in_english.h"

namespace canewise::test::x3p {

inline Cloud read(const std::string& bytes) { return with_file(bytes, read_x3p); }
inline HeightMap read_map(const std::string& bytes) { return with_file(bytes, read_x3p_map); }
inline std::string refusal(const std::string& bytes) { return test::refusal(bytes, read_x3p); }

/// A 23 x 17 patch with gaps; no two rows or columns alike.
inline HeightMap patch() {
  HeightMap map;
  map.columns = 23;
  map.rows = 17;
  map.step_x_mm = 0.05;
  map.step_y_mm = 0.08;
  for (int i = 0; i < 23 * 17; ++i)
    map.z_mm.push_back(i % 13 == 5 ? std::numeric_limits<double>::quiet_NaN()
                                   : 1.5 + 0.03 * (i % 23) - 0.02 * (i / 23) + 1e-4 * (i * i % 97));
  return map;
}

/// What a surface's main.xml says, to be written by hand.
struct Description {
  std::string axes =
      "<CX><AxisType>I</AxisType><DataType>D</DataType><Increment>1e-3</Increment><Offset>0</Offset></CX>"
      "<CY><AxisType>I</AxisType><DataType>D</DataType><Increment>1e-3</Increment><Offset>0</Offset></CY>"
      "<CZ><AxisType>A</AxisType><DataType>D</DataType><Increment>1</Increment><Offset>0</Offset></CZ>";
  std::string dimension = "<MatrixDimension><SizeX>2</SizeX><SizeY>2</SizeY><SizeZ>1</SizeZ></MatrixDimension>";
  std::string data =
      "<DataList><Datum>0.001</Datum><Datum>0.002</Datum><Datum>0.003</Datum><Datum>0.004</Datum></DataList>";
  std::string prologue;
};

inline std::string xml_of(const Description& d) {
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + d.prologue +
         "<p:ISO5436_2 xmlns:p=\"http://www.opengps.eu/2008/ISO5436_2\"><Record1><Revision>ISO25178-72:2017/DAM1"
         "</Revision><FeatureType>SUR</FeatureType><Axes>" +
         d.axes + "</Axes></Record1><Record3>" + d.dimension + d.data +
         "</Record3><Record4><ChecksumFile>md5checksum.hex</ChecksumFile></Record4></p:ISO5436_2>\n";
}

inline std::string link_to(const std::string& member, const std::string& data) {
  return "<DataLink><PointDataLink>" + member + "</PointDataLink><MD5ChecksumPointData>" + fixtures::md5_hex(data) +
         "</MD5ChecksumPointData></DataLink>";
}

inline std::string matrix(const std::string& x, const std::string& y, const std::string& z = "1") {
  return fmt::format("<MatrixDimension><SizeX>{}</SizeX><SizeY>{}</SizeY><SizeZ>{}</SizeZ></MatrixDimension>", x, y, z);
}

using Members = std::vector<std::pair<std::string, std::string>>;

/// The members of a surface file, each put into `folder`.
inline Members members_in(const std::string& folder, const std::string& data, const Description& d) {
  const std::string xml = xml_of(d);
  return {{folder + "main.xml", xml},
          {folder + "md5checksum.hex", fixtures::md5_hex(xml)},
          {folder + "bindata/data.bin", data}};
}

inline std::string four_heights() {
  std::string data;
  for (const double z : {1e-3, 2e-3, 3e-3, 4e-3}) data.append(reinterpret_cast<const char*>(&z), sizeof(z));
  return data;
}

inline Description linked(const std::string& data) {
  Description d;
  d.data = link_to("bindata/data.bin", data);
  return d;
}

}  // namespace canewise::test::x3p
