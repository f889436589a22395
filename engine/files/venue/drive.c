/* A drive as its entry states it. */
#include "files/venue/read.h"

gradin_drive drive_stated(const gradin_drive *stated, double speed_per_s, double mass_kg) {
    gradin_drive drive = *stated;
    drive.speed_per_s = speed_per_s;
    if (isnan(drive.mass_kg)) drive.mass_kg = mass_kg;
    return drive;
}
