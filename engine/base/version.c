/* The version of the library as built. */
#include "gradin/version.h"

int gradin_version_number(void) {
    return GRADIN_VERSION_NUMBER;
}
