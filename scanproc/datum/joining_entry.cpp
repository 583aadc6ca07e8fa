#include "scanproc/datum/joining_part.h"

/// What canewise_joining.so shows to the command; see JoiningPart.
extern "C" __attribute__((visibility("default"))) const canewise::JoiningPart* canewise_joining_part() {
  static const canewise::JoiningPart part{CANEWISE_VERSION, canewise::fits_by_shape, canewise::even_out};
  return &part;
}
