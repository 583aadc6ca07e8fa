#include <arpa/inet.h>
#include <fmt/format.h>
#include <ifaddrs.h>
#include <malloc.h>
#include <net/if.h>

#include <array>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <thread>

#include "scanproc/assess/target_file.h"
#include "scanproc/cli/commands.h"
#include "scanproc/cli/interrupt.h"
#include "scanproc/core/error.h"
#include "scanproc/core/output_folder.h"
#include "scanproc/mechanics/player.h"
#include "scanproc/rig/rig.h"
#include "viewer/server/server.h"

namespace canewise {
namespace {

struct ServeArguments {
  std::string folder = ".", rig, player, target, instrument;
  int port = 0;
  bool lan = false;
  double largest_mb = 2048.0;
};

/// IPv4 addresses of this computer on its networks.
std::vector<std::string> own_addresses() {
  std::vector<std::string> found;
  ifaddrs* first = nullptr;
  if (::getifaddrs(&first) != 0) return found;
  for (const ifaddrs* a = first; a != nullptr; a = a->ifa_next) {
    if (a->ifa_addr == nullptr || a->ifa_addr->sa_family != AF_INET || (a->ifa_flags & IFF_LOOPBACK) != 0) continue;
    std::array<char, INET_ADDRSTRLEN> text{};
    ::inet_ntop(AF_INET, &reinterpret_cast<const sockaddr_in*>(a->ifa_addr)->sin_addr, text.data(), text.size());
    found.emplace_back(text.data());
  }
  ::freeifaddrs(first);
  return found;
}

ServerOptions server_options(const ServeArguments& a, const Speech& speech) {
  ServerOptions options;
  options.speech = speech;
  std::error_code error;
  options.folder = std::filesystem::canonical(a.folder, error);
  if (error || !std::filesystem::is_directory(options.folder))
    throw InputError({"cli.serve.no_folder", {{"folder", text(a.folder)}}});
  options.command = std::filesystem::read_symlink("/proc/self/exe", error);
  if (error) throw OutputError({"cli.serve.no_self"});
  // Told now, not at the first scan.
  if (!a.rig.empty()) (void)read_rig(a.rig);
  options.player = a.player.empty() ? options.folder / "player.toml" : std::filesystem::absolute(a.player);
  if (!a.player.empty() || is_there(options.player)) (void)read_player(options.player);
  if (!a.target.empty()) (void)load_target(a.target);
  const auto add = [&](const char* name, const std::string& value) {
    if (!value.empty()) options.measure_options.insert(options.measure_options.end(), {name, value});
  };
  add("--rig", a.rig);
  add("--target", a.target);
  add("--instrument", a.instrument);
  options.port = a.port;
  options.lan = a.lan;
  options.limits = limits_of_this_machine(kServerChildren);
  options.largest_upload_bytes = static_cast<std::size_t>(a.largest_mb * 1024.0 * 1024.0);
  return options;
}

void run_serve(const ServeArguments& a, const Speech& speech) {
  // Else each of the server's many threads keeps a heap of its own as large as the largest page that it made.
  ::mallopt(M_ARENA_MAX, 2);
  Server server(server_options(a, speech));
  server.start();
  const auto address = [&](const std::string& host) {
    return fmt::format("http://{}:{}/?token={}", host, server.port(), server.secrets().reading);
  };
  std::string screen = phrase(a.lan ? Message{"cli.serve.on_a_network"} : Message{"cli.serve.open"}, speech) + "\n";
  if (a.lan) {
    for (const auto& host : own_addresses()) screen += "  " + address(host) + "\n";
  }
  screen += "  " + address("127.0.0.1") + "\n";
  std::fputs((screen + phrase({"cli.serve.ctrl_c"}, speech) + "\n").c_str(), stdout);
  std::fflush(stdout);
  constexpr std::chrono::milliseconds glance{100};
  while (!interrupted()) std::this_thread::sleep_for(glance);
}

}  // namespace

std::function<void()> add_serve_command(CLI::App& app, const Speech& speech) {
  auto arguments = std::make_shared<ServeArguments>();
  auto* verb = app.add_subcommand("serve", phrase({"cli.serve"}, speech));
  verb->add_option("folder", arguments->folder, phrase({"cli.serve.folder"}, speech));
  verb->add_option("--port", arguments->port, phrase({"cli.serve.port"}, speech))->check(CLI::Range(1, 65535));
  verb->add_flag("--lan", arguments->lan, phrase({"cli.serve.lan"}, speech));
  verb->add_option("--rig", arguments->rig, phrase({"cli.rig"}, speech));
  verb->add_option("--player", arguments->player, phrase({"cli.serve.player"}, speech));
  verb->add_option("--target", arguments->target, phrase({"cli.target_named"}, speech));
  verb->add_option("--instrument", arguments->instrument, phrase({"cli.instrument"}, speech));
  verb->add_option("--largest-mb", arguments->largest_mb, phrase({"cli.serve.largest_mb"}, speech))
      ->check(CLI::Range(1.0, 100000.0));
  return [verb, arguments, speech] {
    if (verb->parsed()) run_serve(*arguments, speech);
  };
}

}  // namespace canewise
