import { calmDegreesPerSecond } from '../../core/job/travel.ts'
import { roleNames } from '../../core/roles/role.ts'
import { isPrinted } from '../state/stack.ts'
import { guide } from './guide.ts'
import { roleWords } from './words.ts'

const keys = [
  ['Arrows', 'tilt the panel (on the table)'],
  ['Shift Arrows', 'move the chosen lamp'],
  ['[ and ]', 'turn the panel in its plane'],
  ['Home', 'panel straight on, whole in view'],
  ['+ and −', 'look closer, step back; so do the wheel and two fingers, which also turn the panel'],
  ['Ctrl Arrows', 'move the view when it is close; so do the pressed wheel and two fingers'],
  [', and .', 'darker, brighter by a quarter of a stop'],
  ['Space', 'play or hold the light run'],
  ['B', 'bare table, only the panel'],
  ['L', 'lift board, white and overprint apart, or lay them down'],
  ['O', 'mark what the screen cannot show'],
  ['Enter', 'read the spot in the middle; x and y can then be typed'],
  ['Ctrl O, Ctrl S', 'open; save (Shift for a new name)'],
  ['Ctrl Z, Shift Ctrl Z', 'undo, redo'],
  ['C', 'designs side by side'],
  ['F', 'checks: what will go wrong on foil'],
  ['P', 'proofs: what others see and sign'],
  ['F2', 'everything that can be done, by name'],
  ['F1, Esc', 'help; close'],
] as const

/** The guide that comes with the window. */
export function Help({ version }: { readonly version: string }) {
  return (
    <div className="help">
      <section>
        <h3>The first ten minutes</h3>
        <ol className="guide">
          {guide.map(({ does, sees }) => (
            <li key={does}>
              <strong>{does}</strong> {sees}
            </li>
          ))}
        </ol>
      </section>
      <section>
        <h3>Without art, and other designs</h3>
        <p>
          A job may begin on a blank panel: the brief says what is wanted, effects and white are chosen in the
          stack, and go to the art’s own layers when it is laid. A job may have up to four designs. Each keeps
          what it changes of effects, white, board and print; a change of the base reaches the others. When
          another program saves the art, it is read again, and a finding says what is new or gone.
        </p>
      </section>
      <section>
        <h3>At the table</h3>
        <p>
          The art lies on metallised board under one lamp or several. Drag the panel and it tilts as it would
          in the hand. Take a lamp by its ring, on the table or on the small dome, and holography lights up,
          ink darkens it, white hides it. A click reads a spot: what lies there, and the colour it shows now.
        </p>
        <dl className="keys">
          {keys.map(([key, does]) => (
            <div key={key}>
              <dt>{key}</dt>
              <dd>{does}</dd>
            </div>
          ))}
        </dl>
      </section>
      <section>
        <h3>Light over time</h3>
        <p>
          A light run is a line of keys under the table. Press on the line to go there, twice for a key; take
          a key and draw it along, or press it to say when it is, how the run passes it, and where lamps,
          panel and eye then are. With the focus on a key, arrows move it, C copies it, Delete takes it out;
          with the focus on the line, K makes one.
        </p>
      </section>
      <section>
        <h3>One spot</h3>
        <p>
          Click a spot, then look closer: the cut through it, how its light goes with tilt and turn, where an
          area flashes, its brightest and darkest tilt, and the pixels around it. A pin keeps the spot in the
          job.
        </p>
      </section>
      <section>
        <h3>What each layer is</h3>
        <p>
          Layers, groups and channels are told by name, by kind, or by standard step names; the reason stands
          under each name. The order in the stack comes from what a layer is, not from the file: holography
          lies at the bottom, white above it, overprint on top. Open a card to set it right. A question mark
          asks how the amount of a coat is read from its pixels.
        </p>
        <dl className="roles">
          {roleNames.filter(isPrinted).map(role => (
            <div key={role}>
              <dt>{roleWords[role].title}</dt>
              <dd>{roleWords[role].says}</dd>
            </div>
          ))}
        </dl>
      </section>
      <section>
        <h3>What is assumed</h3>
        <p>
          Until somebody measures the real board and plates, some numbers are assumptions, and marked so:
          groove depth 60 nm of a sinusoid, waviness 3 mrad, grating cells of 50 µm, white of 50 % opacity in
          one hit. White has three numbers: coverage is the screen, opacity is measured on the solid, hits are
          passes in the press. Angles are tilt from straight-on; a grating’s direction is across its grooves.
        </p>
      </section>
      <section>
        <h3>What goes wrong on foil</h3>
        <p>
          Checks look for it when they are asked, over lamps and tilts, by the same optics as the picture:
          type that vanishes, codes, plates out of register, white, glare, and where the holography goes. Each
          finding shows its place on the panel and leads back to where you were. One may be let stand with a
          reason and a name; every limit has its source and may be set for the job; areas are marked by hand
          where the art does not say what they are. Codes are estimates that replace no verifier, and local
          rules go first.
        </p>
      </section>
      <section>
        <h3>What a screen cannot promise</h3>
        <p>
          Metal flashes are many times brighter than any screen, and pure spectral colours lie outside its
          range. The picture keeps hue and order, not absolute brightness; key O marks where, and by how many
          stops over paper white. It shows what to expect and where, but it is not contractual for metallic
          and diffractive effects: agree those on a sample.
        </p>
      </section>
      <section>
        <h3>Flashing</h3>
        <p>
          Holography that moves quickly can strobe, and strobing can harm people with photosensitive epilepsy.
          Light runs keep below {calmDegreesPerSecond}° a second unless you say otherwise, and stand still
          when your system asks for reduced motion; they can be stepped then, or let move after one question.
          A run that is played is judged by WCAG 2.3.1: seconds that flash too often are hatched on its line,
          and damping slows it there.
        </p>
      </section>
      <p className="quiet">rakelight {version}. Nothing leaves this machine.</p>
    </div>
  )
}
