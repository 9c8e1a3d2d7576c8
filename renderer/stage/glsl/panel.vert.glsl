// The printed face of a leaf lies in the leaf's frame, in mm; the model matrix puts it where it stands.
// Place on the panel, mm from the art's middle, x right, y up.
out vec2 vPlace;

void main() {
  vPlace = position.xy;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
