/* The mask kernel's loops for processors with AVX512; the build adds the flag for this file alone.
 */
#if defined(__x86_64__)
#include "geometry/mask/lanes/lanes_avx512.h"

#include "geometry/mask/mask_loops.h"
#else
typedef int no_avx512; /* a file may not be empty */
#endif
