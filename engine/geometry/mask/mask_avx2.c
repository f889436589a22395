/* The mask kernel's loops for processors with AVX2; the build adds the flag for this file alone. */
#if defined(__x86_64__)
#include "geometry/mask/lanes/lanes_avx2.h"

#include "geometry/mask/mask_loops.h"
#else
typedef int no_avx2; /* a file may not be empty */
#endif
