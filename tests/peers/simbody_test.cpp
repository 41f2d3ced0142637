// Random heads against Simbody 3.7 (Debian libsimbody-dev): an independent multibody library, its own joints and
// constraints, its own projection onto them.
#include "tests/peers/simbody_head.h"

#include "tests/peers/compare.h"

namespace swashwright::peers {
namespace {

/// Everything by Simbody: rods, points in planes, System::projectQ.
struct ByProjection : SimbodyHead {
    explicit ByProjection(const PlainHead& head) : SimbodyHead(head, Way::project) {}
};

TEST(SimbodyHead, AgreesOnHundredsOfRandomHeads) {
    Agreement found;
    compare<ByProjection>(400, 8, found);
    expect_agreement(found, 1e-7);  // mm and deg
}

TEST(SimbodyHead, AgreesInTheFasterWayThatTheBenchmarkTimes) {
    Agreement found;
    compare<SimbodyHead>(100, 8, found);
    expect_agreement(found, 1e-7);
}

}  // namespace
}  // namespace swashwright::peers
