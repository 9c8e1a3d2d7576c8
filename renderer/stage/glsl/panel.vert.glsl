// The panel is a unit square in its own frame; the model matrix makes it mm and holds it in the hand.
uniform vec2 uPanelSize;

// Place on the panel, mm from its middle, x right, y up.
out vec2 vPlace;

void main() {
  vPlace = position.xy * uPanelSize;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
