// One sample of the panel: where it lies, what lies there, and the light it sends to the eye. Mirrors
// core/reference/light.ts; X, Y, Z and a count of one go into the sum.
in vec2 vPlace;
layout(location = 0) out vec4 outLight;

uniform vec3 uLamp;
uniform vec3 uEye;
uniform float uLampSigma;
uniform float uEyeSigma;
uniform float uIrradianceScale;

void main() {
  vec3 fromEye = vec3(vPlace, 0.0) - uEye;
  int level = footprintLevel(fromEye);
  ivec2 texel = texelAt(level, vPlace);
  outLight = vec4(readCoats(level, texel, 0).rgb, 1.0);
}
