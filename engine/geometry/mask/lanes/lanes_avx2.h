/* geometry/mask/lanes/lanes_avx2.h: see lanes_portable.h; two halves of eight lanes. */
#ifndef GRADIN_GEOMETRY_LANES_H
#define GRADIN_GEOMETRY_LANES_H

#include <immintrin.h>
#include <stdint.h>

#define LANES_TABLE gradin_mask_table_avx2

typedef struct lanes {
    __m256 a, b;
} lanes;
typedef struct lanes_bits {
    __m256i a, b;
} lanes_bits;

static inline lanes lanes_all(float a) {
    return (lanes){_mm256_set1_ps(a), _mm256_set1_ps(a)};
}
static inline lanes lanes_load(const float *from) {
    return (lanes){_mm256_loadu_ps(from), _mm256_loadu_ps(from + 8)};
}
static inline lanes lanes_load_16(const uint16_t *from) {
    __m128i a = _mm_loadu_si128((const __m128i *)(const void *)from);
    __m128i b = _mm_loadu_si128((const __m128i *)(const void *)(from + 8));
    return (lanes){_mm256_cvtepi32_ps(_mm256_cvtepu16_epi32(a)),
                   _mm256_cvtepi32_ps(_mm256_cvtepu16_epi32(b))};
}
static inline void lanes_store(float *to, lanes x) {
    _mm256_storeu_ps(to, x.a);
    _mm256_storeu_ps(to + 8, x.b);
}
static inline lanes lanes_add(lanes x, lanes y) {
    return (lanes){_mm256_add_ps(x.a, y.a), _mm256_add_ps(x.b, y.b)};
}
static inline lanes lanes_sub(lanes x, lanes y) {
    return (lanes){_mm256_sub_ps(x.a, y.a), _mm256_sub_ps(x.b, y.b)};
}
static inline lanes lanes_mul(lanes x, lanes y) {
    return (lanes){_mm256_mul_ps(x.a, y.a), _mm256_mul_ps(x.b, y.b)};
}
static inline lanes lanes_div(lanes x, lanes y) {
    return (lanes){_mm256_div_ps(x.a, y.a), _mm256_div_ps(x.b, y.b)};
}
static inline lanes lanes_min(lanes x, lanes y) {
    return (lanes){_mm256_min_ps(x.a, y.a), _mm256_min_ps(x.b, y.b)};
}
static inline lanes lanes_max(lanes x, lanes y) {
    return (lanes){_mm256_max_ps(x.a, y.a), _mm256_max_ps(x.b, y.b)};
}
static inline lanes lanes_abs(lanes x) {
    __m256 sign = _mm256_set1_ps(-0.0f);
    return (lanes){_mm256_andnot_ps(sign, x.a), _mm256_andnot_ps(sign, x.b)};
}
static inline lanes lanes_sqrt(lanes x) {
    return (lanes){_mm256_sqrt_ps(x.a), _mm256_sqrt_ps(x.b)};
}
static inline lanes_bits lanes_whole(lanes x) {
    return (lanes_bits){_mm256_cvttps_epi32(x.a), _mm256_cvttps_epi32(x.b)};
}
static inline uint32_t lanes_below(lanes x, lanes y) {
    uint32_t low = (uint32_t)_mm256_movemask_ps(_mm256_cmp_ps(x.a, y.a, _CMP_LT_OQ));
    return low | (uint32_t)_mm256_movemask_ps(_mm256_cmp_ps(x.b, y.b, _CMP_LT_OQ)) << 8;
}
static inline lanes_bits lanes_load_bits(const uint32_t *from) {
    return (lanes_bits){_mm256_loadu_si256((const __m256i *)(const void *)from),
                        _mm256_loadu_si256((const __m256i *)(const void *)(from + 8))};
}
static inline void lanes_store_bits(uint32_t *to, lanes_bits x) {
    _mm256_storeu_si256((__m256i *)(void *)to, x.a);
    _mm256_storeu_si256((__m256i *)(void *)(to + 8), x.b);
}
static inline lanes_bits lanes_all_bits(uint32_t a) {
    return (lanes_bits){_mm256_set1_epi32((int)a), _mm256_set1_epi32((int)a)};
}
static inline lanes_bits lanes_and(lanes_bits x, lanes_bits y) {
    return (lanes_bits){_mm256_and_si256(x.a, y.a), _mm256_and_si256(x.b, y.b)};
}
static inline lanes_bits lanes_without(lanes_bits x, lanes_bits y) {
    return (lanes_bits){_mm256_andnot_si256(y.a, x.a), _mm256_andnot_si256(y.b, x.b)};
}
static inline lanes_bits lanes_or(lanes_bits x, lanes_bits y) {
    return (lanes_bits){_mm256_or_si256(x.a, y.a), _mm256_or_si256(x.b, y.b)};
}
static inline lanes_bits lanes_from_bit(lanes_bits n) {
    __m256i ones = _mm256_set1_epi32(-1);
    return (lanes_bits){_mm256_sllv_epi32(ones, n.a), _mm256_sllv_epi32(ones, n.b)};
}
static inline int lanes_any(lanes_bits x) {
    __m256i both = _mm256_or_si256(x.a, x.b);
    return !_mm256_testz_si256(both, both);
}
static inline int lanes_same(lanes_bits x, lanes_bits y) {
    __m256i both = _mm256_or_si256(_mm256_xor_si256(x.a, y.a), _mm256_xor_si256(x.b, y.b));
    return _mm256_testz_si256(both, both);
}
static inline uint32_t lanes_fewer(lanes_bits x, lanes_bits y) {
    __m256 a = _mm256_castsi256_ps(_mm256_cmpgt_epi32(y.a, x.a));
    __m256 b = _mm256_castsi256_ps(_mm256_cmpgt_epi32(y.b, x.b));
    return (uint32_t)_mm256_movemask_ps(a) | (uint32_t)_mm256_movemask_ps(b) << 8;
}
static inline uint32_t lanes_used(lanes_bits x) {
    __m256i zero = _mm256_setzero_si256();
    __m256 a = _mm256_castsi256_ps(_mm256_cmpeq_epi32(x.a, zero));
    __m256 b = _mm256_castsi256_ps(_mm256_cmpeq_epi32(x.b, zero));
    return 0xffffu ^ ((uint32_t)_mm256_movemask_ps(a) | (uint32_t)_mm256_movemask_ps(b) << 8);
}
static inline uint32_t lanes_together(lanes_bits x) {
    __m256i both = _mm256_or_si256(x.a, x.b);
    __m128i four = _mm_or_si128(_mm256_castsi256_si128(both), _mm256_extracti128_si256(both, 1));
    four = _mm_or_si128(four, _mm_shuffle_epi32(four, 0x4e));
    four = _mm_or_si128(four, _mm_shuffle_epi32(four, 0xb1));
    return (uint32_t)_mm_cvtsi128_si32(four);
}

#endif
