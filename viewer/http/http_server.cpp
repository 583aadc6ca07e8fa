#include "viewer/http/http_server.h"

#include <algorithm>
#include <atomic>
#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <list>
#include <thread>
#include <utility>

#include "viewer/http/connection.h"

namespace canewise {

namespace asio = boost::asio;
using asio::ip::tcp;
using boost::system::error_code;

struct HttpServer::Parts {
  HttpHandler& handler;
  HttpLimits limits;
  StrangersShare strangers;
  // In this order: answers that workers make come back here, so the workers go first.
  asio::io_context network{1};
  tcp::acceptor acceptor{network};
  std::list<std::shared_ptr<Connection>> connections;  ///< Oldest first. On the network thread alone.
  asio::thread_pool workers;
  std::atomic<bool> stopping{false};
  std::thread thread;

  Parts(HttpHandler& given, const HttpLimits& how)
      : handler(given), limits(how), strangers(how.strangers_share), workers(how.workers) {}

  void bind(const HttpEndpoint& endpoint);
  bool make_room();
  void look_for_news();
  void run();
  asio::awaitable<void> accept_all();
  asio::awaitable<void> serve(std::shared_ptr<Connection> connection);
};

void HttpServer::Parts::bind(const HttpEndpoint& endpoint) {
  const auto address = endpoint.whole_network ? asio::ip::address_v4::any() : asio::ip::address_v4::loopback();
  acceptor.open(tcp::v4());
  acceptor.set_option(tcp::acceptor::reuse_address(true));
  // What the system keeps of each connection before it is read; accepted ones have it too. Megabytes of small pieces
  // cost as much to throw away as to read.
  constexpr int kept_bytes = 65536;
  acceptor.set_option(asio::socket_base::receive_buffer_size(kept_bytes));
  acceptor.bind({address, static_cast<std::uint16_t>(endpoint.port)});
  acceptor.listen(tcp::acceptor::max_listen_connections);
}

/// False if everyone who is connected has asked and waits for an answer.
bool HttpServer::Parts::make_room() {
  if (connections.size() < limits.connections) return true;
  const auto closed = [&](const auto& may_go) {
    const auto found = std::find_if(connections.begin(), connections.end(), may_go);
    if (found == connections.end()) return false;
    (*found)->stream.close();
    connections.erase(found);
    return true;
  };
  return closed([](const auto& one) { return !one->has_asked; }) ||
         closed([](const auto& one) { return !one->is_known; }) ||
         closed([](const auto& one) { return one->is_answered; });
}

asio::awaitable<void> HttpServer::Parts::serve(std::shared_ptr<Connection> connection) {
  try {
    co_await serve_connection(*connection, {handler, limits, workers, strangers});
  } catch (const std::exception&) {
    // No answer can be given any more: the connection is closed.
  }
  connection->stream.close();
  connections.remove(connection);
}

asio::awaitable<void> HttpServer::Parts::accept_all() {
  while (!stopping) {
    error_code error;
    auto token = asio::redirect_error(asio::use_awaitable, error);
    tcp::socket socket = co_await acceptor.async_accept(token);
    if (stopping) co_return;
    if (error) {
      // No descriptor is free, say: in a while one may be.
      asio::steady_timer timer(network, std::chrono::milliseconds(100));
      auto waited = asio::redirect_error(asio::use_awaitable, error);
      co_await timer.async_wait(waited);
      continue;
    }
    if (!make_room()) continue;
    std::shared_ptr<Connection> connection;
    try {
      error_code ignored;
      socket.set_option(tcp::no_delay(true), ignored);
      connection = std::make_shared<Connection>(std::move(socket));
      connections.push_back(connection);
      asio::co_spawn(network, serve(connection), asio::detached);
    } catch (const std::exception&) {
      connections.remove(connection);  // No memory for this one: the next may find some.
    }
  }
}

/// Every piece that a stranger sends wakes whoever waits for news, though nobody reads it: thousands of times a second.
/// So while strangers are connected, news is looked for now and then, and not waited for.
void HttpServer::Parts::look_for_news() {
  constexpr std::chrono::microseconds glance{2000}, glance_with_readers{200};
  bool strangers_are_here = false, readers_are_here = false;
  for (const auto& one : connections) {
    strangers_are_here = strangers_are_here || !one->is_known;
    readers_are_here = readers_are_here || one->is_known;
  }
  if (!strangers_are_here) {
    network.run_one();
  } else if (network.poll() == 0) {
    std::this_thread::sleep_for(readers_are_here ? glance_with_readers : glance);
  }
}

void HttpServer::Parts::run() {
  while (!network.stopped()) {
    try {
      look_for_news();
    } catch (const std::exception&) {
      // What was left undone was one connection's.
    }
  }
}

HttpServer::HttpServer(HttpHandler& handler, const HttpEndpoint& endpoint, const HttpLimits& limits)
    : parts_(std::make_unique<Parts>(handler, limits)) {
  try {
    parts_->bind(endpoint);
  } catch (const boost::system::system_error& error) {
    throw std::system_error(error.code().value(), std::generic_category());
  }
}

HttpServer::~HttpServer() {
  Parts& p = *parts_;
  p.stopping = true;
  asio::post(p.network, [&p] {
    error_code ignored;
    p.acceptor.close(ignored);
    for (const auto& connection : p.connections) connection->stream.close();
    p.network.stop();
  });
  if (p.thread.joinable()) p.thread.join();
  p.workers.stop();
  p.workers.join();
}

int HttpServer::port() const { return parts_->acceptor.local_endpoint().port(); }

void HttpServer::start() {
  Parts& p = *parts_;
  asio::co_spawn(p.network, p.accept_all(), asio::detached);
  p.thread = std::thread([&p] { p.run(); });
}

}  // namespace canewise
