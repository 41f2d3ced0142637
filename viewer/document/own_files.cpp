#include "viewer/document/own_files.h"

namespace swashwright::document {

bool files_are_apart() {
    return false;
}

std::string hand_out(const std::string& path) {
    return path;
}

void ask_for_files() {}
void hand_out_address(const std::string&) {}

}  // namespace swashwright::document
