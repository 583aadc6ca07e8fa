#include <memory>

#include "scanproc/cli/commands.h"
#include "scanproc/cli/ledger_options.h"
#include "scanproc/cli/print_out.h"
#include "scanproc/core/utc.h"

namespace canewise {
namespace {

struct PlaceArguments : LedgerArguments {
  std::string place;
};

void run_add(const PlaceArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::make);
  tell_if_new(ledger, speech);
  Row row = columns_of(a, "place");
  row["name"] = a.place;
  ledger.insert("place", row);
  print_out(phrase({"cli.place.added", {{"place", text(a.place)}}}, speech) + "\n");
}

void run_read(const PlaceArguments& a, const Speech& speech) {
  Ledger ledger(a.ledger, Ledger::Access::write);
  Row row = columns_of(a, "humidity");
  row["place"] = a.place;
  if (!row.contains("read_at")) row["read_at"] = now_utc();
  ledger.insert("humidity", row);
  print_out(phrase({"cli.changed", {{"name", text(a.place)}}}, speech) + "\n");
}

}  // namespace

std::function<void()> add_place_command(CLI::App& app, const Speech& speech) {
  auto a = std::make_shared<PlaceArguments>();
  auto* verb = app.add_subcommand("place", phrase({"cli.place"}, speech));
  verb->require_subcommand(1);
  const auto named = [&](const char* name, const Message& help) {
    auto* sub = verb->add_subcommand(name, phrase(help, speech));
    sub->add_option("place", a->place, phrase({"cli.place.name"}, speech))->required();
    add_ledger_option(*sub, *a, speech);
    return sub;
  };
  auto* add = named("add", {"cli.place.add"});
  add_column_options(*add, *a, "place", {"name"}, speech);
  auto* read = named("read", {"cli.place.read"});
  add_column_options(*read, *a, "humidity", {"place"}, speech);
  return [add, read, a, speech] {
    if (add->parsed()) run_add(*a, speech);
    if (read->parsed()) run_read(*a, speech);
  };
}

}  // namespace canewise
