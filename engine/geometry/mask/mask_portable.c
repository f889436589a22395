/* The mask kernel's loops in plain C. */
#include "geometry/mask/lanes/lanes_portable.h"

#include "geometry/mask/mask_loops.h"
