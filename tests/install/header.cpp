// A user's C++: every public header, and the version of the library that is linked.
#include <cstdio>
#include <gradin/gradin.h>

static_assert(GRADIN_VERSION_NUMBER >= 100, "a numeric version");

int main() {
    const int number = gradin_version_number();
    std::printf("%d.%d.%d\n", number / 10000, number / 100 % 100, number % 100);
    return number == GRADIN_VERSION_NUMBER ? 0 : 1;
}
