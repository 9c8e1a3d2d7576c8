// A wide lamp as it is seen from here: core/optics/area.ts and outline-light.ts.
struct Area {
  bool round;
  vec3 middle;
  vec3 across;
  vec3 up;
  vec3 toward;
  // Of a disc.
  vec3 axis;
  float depth;
  float radius;
  // Integral of the cosine over its solid angle above the panel, and the cosine of where that comes from.
  float light;
  float lightCos;
};

Area area;
// Of a rectangle: unit vectors square to the planes through here and each side, inwards; 0 and 2 face each other.
vec3 areaSides[4];

// Corner i of an outline, in turn; a disc that the panel's plane cuts is a polygon of the same area.
vec3 areaCorner(int i) {
  if (area.round) {
    float turn = tau / float(ROUND_SIDES);
    float size = sqrt(turn / sin(turn));
    float angle = float(i) * turn;
    return area.middle + size * (cos(angle) * area.across + sin(angle) * area.up);
  }
  return area.middle + (i == 0 || i == 3 ? -area.across : area.across) + (i < 2 ? -area.up : area.up);
}

vec3 edgeLight(vec3 p, vec3 q) {
  vec3 n = cross(p, q);
  float size = length(n);
  return size == 0.0 ? vec3(0.0) : atan(size, dot(p, q)) / (2.0 * size) * n;
}

void polygonLight(int count) {
  vec3 sum = vec3(0.0);
  vec3 firstKept = vec3(0.0);
  vec3 lastKept = vec3(0.0);
  int used = 0;
  vec3 p = areaCorner(count - 1);
  for (int i = 0; i < count; i++) {
    vec3 q = areaCorner(i);
    if ((p.z >= 0.0) != (q.z >= 0.0)) {
      vec3 cut = vec3(mix(p.xy, q.xy, p.z / (p.z - q.z)), 0.0);
      if (used == 0) firstKept = cut;
      else sum += edgeLight(lastKept, cut);
      lastKept = cut;
      used++;
    }
    if (q.z >= 0.0) {
      if (used == 0) firstKept = q;
      else sum += edgeLight(lastKept, q);
      lastKept = q;
      used++;
    }
    p = q;
  }
  area.light = 0.0;
  area.lightCos = 0.0;
  if (used < 3) return;
  sum += edgeLight(lastKept, firstKept);
  area.light = abs(sum.z);
  area.lightCos = min(1.0, area.light / length(sum));
}

void discLight() {
  float r2 = area.radius * area.radius;
  float h = area.depth;
  vec3 aside = area.middle - h * area.axis;
  float a2 = dot(aside, aside);
  float s2 = h * h + a2;
  float s = sqrt((s2 + r2) * (s2 + r2) - 4.0 * a2 * r2);
  float straight = tau * r2 * h * h / (s * (s + s2 - r2));
  float sideways = tau * r2 * h / (s * (s + s2 + r2));
  area.light = max(0.0, straight * area.axis.z + sideways * aside.z);
  area.lightCos = min(1.0, area.light / sqrt(straight * straight + sideways * sideways * a2));
}

void aimArea(vec3 middle, vec3 across, vec3 up, bool round) {
  area.round = round;
  area.middle = middle - vec3(site.place, SITE_HEIGHT);
  area.across = across;
  area.up = up;
  area.toward = normalize(area.middle);
  if (!round) {
    for (int i = 0; i < 4; i++) {
      vec3 n = normalize(cross(areaCorner(i), areaCorner((i + 1) & 3)));
      areaSides[i] = dot(n, area.middle) < 0.0 ? -n : n;
    }
    polygonLight(4);
    return;
  }
  vec3 axis = normalize(cross(across, up));
  area.axis = dot(axis, area.middle) < 0.0 ? -axis : axis;
  area.depth = dot(area.axis, area.middle);
  area.radius = length(across);
  float dip = area.radius * sqrt(max(0.0, 1.0 - area.axis.z * area.axis.z));
  if (area.middle.z >= dip) discLight();
  else polygonLight(ROUND_SIDES);
}

// Part of a standard normal distribution below x.
float normalBelow(float x) {
  if (x >= NORMAL_REACH) return 1.0;
  if (x <= -NORMAL_REACH) return 0.0;
  return 1.0 / (1.0 + exp(-x * (NORMAL_A + NORMAL_B * x * x)));
}

// Deviation of a blurred direction along a gradient of its tangential part; blur is xx, xy, yy.
float deviationAlong(vec2 g, vec3 blur) {
  return sqrt(blur.x * g.x * g.x + 2.0 * blur.y * g.x * g.y + blur.z * g.y * g.y + 1e-18);
}

// The same, mm, along a unit vector of the lamp's plane, which the direction l meets at distance t.
float deviationOnDisc(vec3 e, vec3 l, float t, float along, vec2 o, vec3 blur) {
  vec3 g = t * (e - dot(l, e) / along * area.axis);
  return deviationAlong(g.xy - g.z * o, blur) + 1e-6;
}

// How much of the blurred lamp is seen in a direction.
float softShare(vec3 l, vec3 blur) {
  vec2 o = l.xy / max(l.z, LEAST_HEIGHT);
  if (area.round) {
    float along = dot(l, area.axis);
    if (along <= RIM_PART * area.depth * inversesqrt(area.depth * area.depth + area.radius * area.radius)) return 0.0;
    float t = area.depth / along;
    vec3 off = l * t - area.middle;
    float distance = length(off);
    vec3 e = distance < 1e-6 * area.radius ? area.across / area.radius : off / distance;
    float radial = deviationOnDisc(e, l, t, along, o, blur);
    float sideways = deviationOnDisc(cross(area.axis, e), l, t, along, o, blur);
    float inset = area.radius * (1.0 - SQUARE_INSET * min(1.0, 1.25 * radial / area.radius));
    float inside = normalBelow((inset - distance) / radial) + normalBelow((inset + distance) / radial) - 1.0;
    float chord = 2.0 * normalBelow(area.radius * (1.0 - SQUARE_INSET) / sideways) - 1.0;
    return max(0.0, inside * chord);
  }
  vec4 below;
  for (int i = 0; i < 4; i++) {
    vec3 n = areaSides[i];
    below[i] = normalBelow(dot(l, n) / deviationAlong(n.xy - n.z * o, blur));
  }
  return max(0.0, below.x + below.z - 1.0) * max(0.0, below.y + below.w - 1.0);
}

// The part along g of the directions whose part across it is w, where the lamp may be met; empty when x >= y.
vec2 meets(vec2 g, float w, float margin) {
  float r = sqrt(1.0 - w * w);
  float low = -0.5 * PI;
  float high = 0.5 * PI;
  float rim = cos(min(PI, asin(min(1.0, area.radius / length(area.middle))) + margin));
  for (int i = 0; i < (area.round ? 1 : 4); i++) {
    vec3 n = area.round ? area.toward : areaSides[i];
    float nu = dot(n.xy, g);
    float nw = n.y * g.x - n.x * g.y;
    float s = ((area.round ? rim : -margin) - w * nw) / (r * length(vec2(nu, n.z)) + 1e-12);
    if (s >= 1.0) return vec2(0.0);
    if (s <= -1.0) continue;
    float reach = acos(s);
    float middle = atan(nu, n.z);
    if (middle + reach < 1.5 * PI) low = max(low, middle - reach);
    if (middle - reach > -1.5 * PI) high = min(high, middle + reach);
  }
  return low >= high ? vec2(0.0) : r * sin(vec2(low, high));
}

// The margin outside which a blur of that deviation shows nothing of the lamp.
float marginOf(float deviation) {
  float size = dot(area.across, area.across) + dot(area.up, area.up);
  float low = area.toward.z - sqrt(size / dot(area.middle, area.middle));
  return WIDE_REACH * deviation / max(LOWEST_TOWARD, low);
}
