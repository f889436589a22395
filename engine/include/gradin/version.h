/* gradin/version.h: the version, its only home: CMakeLists.txt reads it from here.
 *
 * Ownership and threads: Nothing here is owned by anybody; safe from any thread. */
#ifndef GRADIN_VERSION_H
#define GRADIN_VERSION_H

#include "gradin/export.h"

#ifdef __cplusplus
extern "C" {
#endif

#define GRADIN_VERSION_MAJOR 0
#define GRADIN_VERSION_MINOR 1
#define GRADIN_VERSION_PATCH 0

/* One number that grows with the version, for #if: 0.1.0 is 100, 1.2.3 is 10203. */
#define GRADIN_VERSION_NUMBER                                                                      \
    (GRADIN_VERSION_MAJOR * 10000 + GRADIN_VERSION_MINOR * 100 + GRADIN_VERSION_PATCH)

#define GRADIN_VERSION_TEXT_OF(number) #number
#define GRADIN_VERSION_TEXT(major, minor, patch)                                                   \
    GRADIN_VERSION_TEXT_OF(major)                                                                  \
    "." GRADIN_VERSION_TEXT_OF(minor) "." GRADIN_VERSION_TEXT_OF(patch)
/* "0.1.0" */
#define GRADIN_VERSION                                                                             \
    GRADIN_VERSION_TEXT(GRADIN_VERSION_MAJOR, GRADIN_VERSION_MINOR, GRADIN_VERSION_PATCH)

/* GRADIN_VERSION_NUMBER of the library in use, which may be newer than the header. Safe from any
 * thread. */
GRADIN_API int gradin_version_number(void);

#ifdef __cplusplus
}
#endif

#endif
