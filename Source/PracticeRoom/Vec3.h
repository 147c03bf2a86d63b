#pragma once

#include <cmath>

namespace plumbline
{

/** A place or a direction in the room, metres: x from the front wall towards the back, y from the left wall
    towards the right as one looks at the monitors, z up from the floor. */
struct Vec3
{
    double x = 0.0;
    double y = 0.0;
    double z = 0.0;

    bool operator==(const Vec3&) const = default;

    Vec3 operator+(const Vec3& other) const { return { x + other.x, y + other.y, z + other.z }; }

    Vec3 operator-(const Vec3& other) const { return { x - other.x, y - other.y, z - other.z }; }

    Vec3 operator*(double factor) const { return { x * factor, y * factor, z * factor }; }
};

inline double dot(const Vec3& a, const Vec3& b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

inline double length(const Vec3& v)
{
    return std::sqrt(dot(v, v));
}

/** Turned about the vertical, from x towards y. */
inline Vec3 turned(const Vec3& v, double radians)
{
    const double c = std::cos(radians), s = std::sin(radians);
    return { v.x * c - v.y * s, v.x * s + v.y * c, v.z };
}

}
