#pragma once

namespace canewise {

/// Status codes of answers ([RFC9110], 15; 431 is [RFC6585], 5; 507 is [RFC4918], 11.5).
inline constexpr int kBadRequest = 400, kForbidden = 403, kNotFound = 404, kMethodNotAllowed = 405, kConflict = 409,
                     kLengthRequired = 411, kTooLarge = 413, kUnsupported = 415, kMisdirected = 421,
                     kUnprocessable = 422, kHeadTooLarge = 431, kBroken = 500, kUnavailable = 503, kNoRoom = 507;

}  // namespace canewise
