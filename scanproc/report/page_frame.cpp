#include "scanproc/report/page_frame.h"

#include <fmt/format.h>

#include "viewer/embedded/embedded_page.h"

namespace canewise {

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string base64(std::string_view bytes) {
  constexpr std::string_view digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  const auto byte = [&](std::size_t i) { return i < bytes.size() ? static_cast<unsigned char>(bytes[i]) : 0U; };
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const unsigned int triple = byte(i) << 16U | byte(i + 1) << 8U | byte(i + 2);
    for (unsigned int k = 0; k < 4; ++k) {
      out += i + k <= bytes.size() ? digits[triple >> (18U - 6U * k) & 63U] : '=';
    }
  }
  return out;
}

std::string worded(std::string_view name, std::string_view words) {
  return fmt::format("<span data-text=\"{}\">{}</span>", name, escaped(words));
}

std::string image(const PageHome& home, std::string_view file, std::string_view bytes, std::string_view description) {
  return "<img alt=\"" + escaped(description) + "\" src=\"" +
         (home.pictures_inside ? "data:image/png;base64," + base64(bytes) : std::string(file)) + "\">";
}

std::string way_home(const PageHome& home) {
  return home.in_one_file ? std::string() : "<nav><a href=\"/\">" + worded("allReeds", "All reeds") + "</a></nav>";
}

std::string table_begin(std::string_view name) {
  return "<div class=\"wide\" role=\"group\" tabindex=\"0\" aria-label=\"" + escaped(name) + "\"><table>";
}

std::string framed_page(const PageHome& home, std::string_view title, std::string_view body, std::string_view data) {
  std::string page =
      "<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
      "content=\"width=device-width,initial-scale=1\"><link rel=\"icon\" href=\"data:,\">";
  if (home.in_one_file) {
    // Opened from disk or from a mail it must ask nothing of any network.
    page +=
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src 'unsafe-inline'; "
        "style-src 'unsafe-inline'; img-src data: blob:";
    // Beside it on the disk.
    if (!home.pictures_inside) page += " file:";
    page += "\">";
  }
  page += "<title>" + escaped(title) + "</title>";
  page += home.in_one_file ? "<style>" + std::string(page_style()) + "</style>"
                           : std::string("<link rel=\"stylesheet\" href=\"/app.css\">");
  page += "</head><body>" + std::string(body);
  if (!data.empty()) page += "<script type=\"application/json\" id=\"reed-data\">" + std::string(data) + "</script>";
  if (!home.in_one_file) {
    page += "<script src=\"/app.js\" defer></script>";
  } else if (!data.empty()) {
    page += "<script>" + std::string(page_script()) + "</script>";
  }
  return page + "</body></html>\n";
}

}  // namespace canewise
