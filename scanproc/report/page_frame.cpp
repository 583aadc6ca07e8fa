#include "scanproc/report/page_frame.h"

#include <fmt/format.h>

#include "scanproc/report/said.h"
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

std::string image(const PageHome& home, const PagePicture& picture, const Speech& speech) {
  return "<img" + said_as("alt", picture.description, speech) + " src=\"" +
         (home.pictures_inside ? "data:image/png;base64," + base64(picture.bytes) : std::string(picture.file)) + "\">";
}

std::string way_home(const PageHome& home, const Speech& speech) {
  return home.in_one_file ? std::string()
                          : "<nav><a href=\"/\">" + said(Message{"report.all_reeds"}, speech) + "</a></nav>";
}

std::string table_begin(const Message& name, const Speech& speech) {
  return "<div class=\"wide\" role=\"group\" tabindex=\"0\"" + said_as("aria-label", name, speech) + "><table>";
}

std::string table_row(std::string_view cell, const Messages& phrases, const Speech& speech) {
  std::string row = "<tr>";
  for (const Message& message : phrases) row += fmt::format("<{0}>{1}</{0}>", cell, said_phrase(message, speech));
  return row + "</tr>";
}

std::string framed_page(const PageHome& home, const PageContent& content, const Speech& speech) {
  const auto& [title, body, data] = content;
  std::string page = fmt::format(
      "<!doctype html><html lang=\"{}\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
      "content=\"width=device-width,initial-scale=1\"><link rel=\"icon\" href=\"data:,\">",
      code_of(speech.language));
  if (home.in_one_file) {
    // Opened from disk or from a mail it must ask nothing of any network.
    page +=
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src 'unsafe-inline'; "
        "style-src 'unsafe-inline'; img-src data: blob:";
    // Beside it on the disk.
    if (!home.pictures_inside) page += " file:";
    page += "\">";
  }
  page += "<title" + say_attribute(title) + ">" + escaped(sentence(title, speech)) + "</title>";
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
