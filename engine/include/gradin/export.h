/* gradin/export.h: the mark of what the library exports. All else in it is hidden.
 *
 * Ownership and threads: Nothing here is owned by anybody; safe from any thread. */
#ifndef GRADIN_EXPORT_H
#define GRADIN_EXPORT_H

#if defined(__GNUC__) || defined(__clang__)
#define GRADIN_API __attribute__((visibility("default")))
#else
#define GRADIN_API
#endif

#endif
