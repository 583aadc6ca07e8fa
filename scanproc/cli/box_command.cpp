#include <filesystem>
#include <memory>

#include "scanproc/advise/box_view.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/ledger_options.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_files.h"
#include "scanproc/ledger/file_result.h"
#include "scanproc/pipeline/result_json.h"
#include "scanproc/report/box_page.h"
#include "scanproc/report/box_picture.h"
#include "scanproc/report/box_screen.h"
#include "scanproc/report/print_sheets.h"

namespace canewise {
namespace {

struct BoxArguments : LedgerArguments {
  std::string name, out;
};

void run_add(const BoxArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::make);
  tell_if_new(ledger, speech);
  Row row = columns_of(a, "box");
  row["name"] = a.name;
  ledger.in_one_step([&] {
    ledger.insert("box", row);
    const int holds = find_box(ledger, a.name).holds;
    for (int k = 1; k <= holds; ++k) add_reed(ledger, a.name + "-" + std::to_string(k));
  });
  const auto reeds = reeds_of_box(ledger, a.name).size();
  print_out(phrase({"cli.box.added", {{"box", text(a.name)}, {"reeds", count(reeds)}}}, speech) + "\n");
}

void run_change(const BoxArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::write);
  ledger.update("box", a.name, columns_of(a, "box"));
  print_out(phrase({"cli.changed", {{"name", text(a.name)}}}, speech) + "\n");
}

void run_list(const BoxArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  std::string screen;
  const TriedBoxes boxes = tried_boxes(ledger);
  for (const TriedBoxRecord& box : boxes)
    screen += sentences({box_sentences(view_box(ledger, box.box.name, boxes)).front()}, speech) + "\n";
  print_out(screen.empty() ? phrase({"cli.box.none"}, speech) + "\n" : screen);
}

/// The latest result of each reed, as far as it lies where it was filed.
std::vector<PicturedReed> pictured(const Ledger& ledger, const BoxView& box, Messages& missing) {
  std::vector<PicturedReed> reeds;
  const auto base = std::filesystem::absolute(ledger.path()).parent_path();
  for (const ReedOfBox& reed : box.reeds) {
    if (!reed.result) continue;
    try {
      reeds.push_back({reed.reed.label,
                       {"box.shelf", {{"shelf", word(name_of(reed.shelf))}}},
                       read_result(base / reed.result->folder)});
    } catch (const InputError& error) {
      missing.push_back(error.message());
    }
  }
  return reeds;
}

void run_show(const BoxArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  const BoxView box = view_box(ledger, a.name);
  std::string screen = box_screen(box, speech);
  if (!a.out.empty()) {
    Messages missing;
    const auto reeds = pictured(ledger, box, missing);
    const std::string picture = box_png({"box.picture", {{"box", text(a.name)}}}, reeds, speech);
    write_output_files(
        a.out, {{"box.png", picture}, {"box.html", box_overview(box, picture, {.pictures_inside = false}, speech)}});
    for (const Message& why : missing) screen += phrase({"cli.ledger.not_filed", {{"why", part(why)}}}, speech) + "\n";
    screen +=
        phrase({"cli.box.written", {{"page", text((std::filesystem::path(a.out) / "box.html").string())}}}, speech) +
        "\n";
  }
  print_out(screen);
}

void run_labels(const BoxArguments& a, const Speech& speech) {
  const Ledger ledger(a.ledger, Ledger::Access::read);
  const std::string name = a.name + "-labels.pdf";
  const std::filesystem::path out = a.out.empty() ? std::filesystem::path(".") : std::filesystem::path(a.out);
  write_output_files(out, {{name, labels_pdf(find_box(ledger, a.name), reeds_of_box(ledger, a.name), speech)}});
  print_out(phrase({"cli.written", {{"file", text((out / name).string())}}}, speech) + "\n");
}

}  // namespace

std::function<void()> add_box_command(CLI::App& app, const Speech& speech) {
  auto a = std::make_shared<BoxArguments>();
  auto* verb = app.add_subcommand("box", phrase({"cli.box"}, speech));
  verb->require_subcommand(1);
  const auto named = [&](const char* name, const Message& help) {
    auto* sub = verb->add_subcommand(name, phrase(help, speech));
    sub->add_option("box", a->name, phrase({"cli.box.name"}, speech))->required();
    add_ledger_option(*sub, *a, speech);
    return sub;
  };
  auto* add = named("add", {"cli.box.add"});
  add_column_options(*add, *a, "box", {"name", "is_set_aside"}, speech);
  auto* change = named("change", {"cli.box.change"});
  add_column_options(*change, *a, "box", {}, speech);
  auto* show = named("show", {"cli.box.show"});
  show->add_option("--out", a->out, phrase({"cli.box.out"}, speech));
  auto* labels = named("labels", {"cli.box.labels"});
  labels->add_option("--out", a->out, phrase({"cli.folder_out"}, speech));
  auto* list = verb->add_subcommand("list", phrase({"cli.box.list"}, speech));
  add_ledger_option(*list, *a, speech);
  return [add, change, show, labels, list, a, speech] {
    if (add->parsed()) run_add(*a, speech);
    if (change->parsed()) run_change(*a, speech);
    if (show->parsed()) run_show(*a, speech);
    if (labels->parsed()) run_labels(*a, speech);
    if (list->parsed()) run_list(*a, speech);
  };
}

}  // namespace canewise
