#pragma once

#include <cstddef>
#include <cstdint>

/// Hands bytes to every reader of foreign files; anything but a refusal in words is a defect.
void read_as_everything(const std::uint8_t* data, std::size_t size);
