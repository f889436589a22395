/* The mask kernel's loops in plain C. */
#include "geometry/lanes_portable.h"

#include "geometry/mask_loops.h"
