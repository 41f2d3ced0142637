// Numbers drawn by chance that are the same on every machine: no distribution of the standard library says how it
// draws.
#pragma once

#include <cstddef>
#include <cstdint>

namespace swashwright::studies {

/// SplitMix64 (Steele, Lea and Flood, Fast Splittable Pseudorandom Number Generators, OOPSLA 2014; constants from
/// memory). All that follows from it is sums and products of doubles, which IEEE 754 fixes to the last bit.
class Dice {
public:
    explicit Dice(std::uint64_t seed) : state_(seed) {}

    std::uint64_t next() {
        std::uint64_t z = state_ += 0x9E3779B97F4A7C15ULL;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
        return z ^ (z >> 31);
    }
    /// From 0 to under `count`, above 0.
    std::size_t whole(std::size_t count) { return static_cast<std::size_t>(next() % count); }
    double between(double low, double high) { return low + (high - low) * static_cast<double>(next() >> 11) * 0x1p-53; }
    bool heads() { return (next() >> 63) == 1; }
    /// Near to normal, mean 0 and deviation 1: twelve evenly drawn numbers less six, never beyond 6 (Knuth, The Art of
    /// Computer Programming, vol. 2, 3.4.1; from memory). No logarithm, which differs between machines in its last bit.
    double normal() {
        double sum = -6;
        for (int i = 0; i < 12; ++i) sum += between(0, 1);
        return sum;
    }
    /// For another purpose: the same for the same number, and no part of what this one draws.
    static Dice of(std::uint64_t seed, std::uint64_t purpose) { return Dice(Dice(seed ^ Dice(purpose).next()).next()); }

private:
    std::uint64_t state_;
};

}  // namespace swashwright::studies
