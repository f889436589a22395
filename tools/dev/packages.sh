# Sourced by tests/run.sh and demo/run.sh: the Debian packages that gradin needs, and one function
# that installs those that are missing. Changes nothing when all are there.

GRADIN_PACKAGES_BUILD="build-essential cmake ninja-build pkg-config libyaml-dev libassimp-dev
  libpng-dev libcairo2-dev libfontconfig-dev fonts-dejavu-core libopenblas-dev liblapacke-dev libjansson-dev
  libxxhash-dev libkissfft-dev libnlopt-dev"
GRADIN_PACKAGES_TEST="libcriterion-dev mold clang clang-format libclang-rt-14-dev libembree-dev libomp-dev
  locales mandoc poppler-utils zsh python3-ezdxf chromium chromium-driver python3-selenium
  python3 python3-jsonschema python3-numpy python3-scipy python3-yaml time"

# gradin_missing_packages PACKAGE...: prints those that dpkg does not have, one a line.
gradin_missing_packages() {
  local package
  for package in "$@"; do
    case "$(dpkg-query -W -f='${Status}' "$package" 2>/dev/null)" in
      "install ok installed") ;;
      *) echo "$package" ;;
    esac
  done
}

# gradin_install_packages PACKAGE...: installs what is missing, as root or through sudo, and says so.
gradin_install_packages() {
  if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
    echo "packages: no apt here; these Debian packages (or their like) are needed:" $* >&2
    return 0
  fi
  local missing as_root=""
  missing=$(gradin_missing_packages "$@")
  [ -n "$missing" ] || return 0
  echo "packages: installing" $missing >&2
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      echo "packages: neither root nor sudo; install them yourself: apt-get install" $missing >&2
      return 1
    fi
    as_root=sudo
  fi
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get update -q >&2 &&
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends \
      $missing >&2
}
