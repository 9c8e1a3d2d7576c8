/** The first ten minutes, step by step: the help shows them, the README has them with pictures, a script walks them. */
export interface GuideStep {
  /** Name of its picture in demo-assets/guide, where it has one. */
  readonly picture: string | null
  readonly does: string
  /** What is seen then. */
  readonly sees: string
}

export const guide: readonly GuideStep[] = [
  {
    picture: 'start',
    does: 'Press “Look at the demo carton”.',
    sees: 'A star chart printed on foil lies under one lamp. On the left is what it is made of, as seen from the eye down.',
  },
  {
    picture: 'tilt',
    does: 'Drag the panel upwards by a hand’s breadth; the arrow keys tilt it too.',
    sees: 'It tilts as it would in the hand, and the holography changes its colours. A double click puts it straight.',
  },
  {
    picture: 'lamp',
    does: 'Press Home, then type 40 into Elevation or draw the lamp by its ring.',
    sees: 'The panel lies straight again and the lamp stands lower: other grooves send their light to the eye. Undo takes every step back.',
  },
  {
    picture: 'effect',
    does: 'Press the small arrow beside Holography, open “Holo lens rings” and set its Pitch 150 nm higher.',
    sees: 'Only what changed is built again, and the rings flash at another tilt.',
  },
  {
    picture: 'spot',
    does: 'Click on the rings and press “Keep as a pin”.',
    sees: 'The note says what lies there, and the colour it shows now. The pin stays in the job.',
  },
  {
    picture: 'designs',
    does: 'Press “Try another design”, open the White card, set its Opacity to 95, then press “Side by side”.',
    sees: 'Both designs lie under the same light and tilt together. Whatever is changed stays with the design that is chosen.',
  },
  {
    picture: 'anything',
    does: 'Press F2 and type “shop”.',
    sees: 'Everything that can be done is found by its name. Enter puts the carton under the light of a shop.',
  },
  {
    picture: null,
    does: 'Press Ctrl S.',
    sees: 'The desktop window saves the job beside the art, a browser puts it among your downloads. Until then unsaved work is kept apart, and offered again should anything fail.',
  },
]
