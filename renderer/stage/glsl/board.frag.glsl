// Unprinted board under lamps and room, leaf frame: core/reference/board-face.ts.
in vec3 vPoint;
in vec3 vNormal;
layout(location = 0) out vec4 outLight;

uniform vec3 uLampMiddle[LAMPS];
uniform float uLampPointScale[LAMPS];
uniform int uLampSet[LAMPS];
uniform float uRoomParts[SETS];
uniform vec3 uRoomUp;
uniform float uRoomLevel;
uniform vec3 uWhite[SETS];
uniform vec3 uBoardAlbedo[SETS];

// What a diffuser takes from the whole room: core/optics/room.ts.
float roomMean(float k) {
  return ROOM_FLOOR + (1.0 - ROOM_FLOOR) * 0.25 * (1.0 + 4.0 / 3.0 * k + (1.0 + k * k) / 4.0);
}

void main() {
  vec3 n = normalize(vNormal);
  vec3 light = vec3(0.0);
  for (int i = 0; i < LAMPS; i++) {
    vec3 l = uLampMiddle[i] - vPoint;
    float distance2 = dot(l, l);
    float irradiance = uLampPointScale[i] * max(0.0, dot(l, n)) / (distance2 * sqrt(distance2));
    light += irradiance * uWhite[uLampSet[i]] * uBoardAlbedo[uLampSet[i]];
  }
  float room = uRoomLevel * roomMean(dot(uRoomUp, n));
  for (int set = 0; set < SETS; set++) light += room * uRoomParts[set] * uWhite[set] * uBoardAlbedo[set];
#ifdef DIRECT
  outLight = vec4(displayColor(light), 1.0);
#else
  outLight = vec4(light, 1.0);
#endif
}
