/* A drive as its entry states it. */
#include "files/write/state.h"

gradin_drive state_drive(const gradin_drive *drive, double mass_kg) {
    gradin_drive s = *drive;
    if (s.mass_kg == mass_kg) s.mass_kg = NAN;
    return s;
}
