#include "viewer/document/today.h"

#include <fmt/chrono.h>

#include <ctime>

namespace swashwright::document {

std::string today() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    localtime_r(&now, &local);
    return fmt::format("{:%Y-%m-%d}", local);
}

}  // namespace swashwright::document
