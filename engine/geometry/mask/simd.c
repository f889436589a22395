/* Which instruction set the mask kernel's loops use: the best that the processor has, unless a
 * caller has chosen one. All give the same bits. */
#include "geometry/mask/mask.h"

#include <stdatomic.h>

static atomic_int chosen = GRADIN_SIMD_BEST;

bool gradin_simd_has(gradin_simd simd) {
#if defined(__x86_64__)
    if (simd == GRADIN_SIMD_AVX2) return __builtin_cpu_supports("avx2");
    if (simd == GRADIN_SIMD_AVX512)
        return __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq");
#endif
    return simd == GRADIN_SIMD_BEST || simd == GRADIN_SIMD_PORTABLE;
}

bool gradin_simd_use(gradin_simd simd) {
    if (!gradin_simd_has(simd)) return false;
    atomic_store(&chosen, (int)simd);
    return true;
}

gradin_simd gradin_simd_used(void) {
    gradin_simd simd = (gradin_simd)atomic_load(&chosen);
    if (simd != GRADIN_SIMD_BEST) return simd;
    if (gradin_simd_has(GRADIN_SIMD_AVX512)) return GRADIN_SIMD_AVX512;
    return gradin_simd_has(GRADIN_SIMD_AVX2) ? GRADIN_SIMD_AVX2 : GRADIN_SIMD_PORTABLE;
}

const mask_table *gradin_mask_table(void) {
#if defined(__x86_64__)
    gradin_simd simd = gradin_simd_used();
    if (simd == GRADIN_SIMD_AVX512) return &gradin_mask_table_avx512;
    if (simd == GRADIN_SIMD_AVX2) return &gradin_mask_table_avx2;
#endif
    return &gradin_mask_table_portable;
}
