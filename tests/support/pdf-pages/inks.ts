import { onePage } from '../pdf-write.ts'
import { box, circle, deviceN, holo, separation, spots, white } from './spaces.ts'

const star = (x: number, y: number, r: number): string =>
  Array.from({ length: 5 }, (_, i) => {
    const a = Math.PI / 2 + (i * 4 * Math.PI) / 5
    return `${(x + r * Math.cos(a)).toFixed(3)} ${(y + r * Math.sin(a)).toFixed(3)} ${i === 0 ? 'm' : 'l'}`
  }).join(' ')

/** Pages about inks and how they are laid over one another, without transparency. */
export const inkPages = {
  'cmyk fills': () =>
    onePage(() => ({
      content: [
        `0.8 0 0 0 k ${box(10, 10, 60, 40)}`,
        `0 0.6 0.2 0 k ${star(120, 35, 30)} h f`,
        `0.1 0.2 0.3 0.4 k ${star(45, 85, 28)} h f*`,
        `0 0 0 1 k ${circle(120, 90, 22)} ${circle(120, 90, 12)} f*`,
        `0.5 g ${box(155, 80, 20, 30)} 0 g ${box(155, 10, 20, 10)} 1 g ${box(158, 85, 8, 8)}`,
      ].join('\n'),
    })),

  strokes: () =>
    onePage(() => ({
      content: [
        '0 1 0 0 K 8 w 0 J 0 j 15 15 m 60 100 l 100 15 l S',
        '1 0 0 0 K 6 w 1 J 1 j 75 100 m 100 60 l 130 100 l S',
        '0 0 1 0 K 6 w 2 J 2 j 110 20 m 130 50 l 150 20 l s',
        '0 0 0 1 K 5 w 0 J [12 6 3 6] 4 d 10 112 m 170 112 l S',
        // Ends inside a dash: at the very end of one, a dot more or less is anybody's.
        '1 J [10 10] 0 d 10 6 m 166 6 l S [] 0 d',
        'q 3 0 0 0.8 155 80 cm 0.5 0 0.5 0 K 3 w 0 0 8 14 re S Q',
        '1.2 M 0 j 4 w 0.3 0.3 0 0 K 150 60 m 174 64 l 150 68 l S',
      ].join('\n'),
    })),

  clips: () =>
    onePage(() => ({
      resources: `/ColorSpace << ${spots} >>`,
      content: [
        `q ${circle(60, 60, 45)} W n 0.6 0 0 0 k ${box(0, 0, 180, 120)}`,
        `q ${circle(60, 60, 45)} ${circle(60, 60, 25)} W* n /H cs 0.8 scn ${box(20, 20, 60, 90)} Q`,
        `20 55 120 10 re W n 0 0 0 1 k ${box(0, 0, 180, 120)} Q`,
        `q 110 10 60 100 re W n ${star(140, 60, 50)} h W n /W cs 1 scn ${box(100, 0, 80, 120)} Q`,
      ].join('\n'),
    })),

  separation: () =>
    onePage(pdf => {
      const lab = `[/Separation /Lens#20green [/Lab << /WhitePoint [0.9642 1 0.8249] /Range [-128 127 -128 127] >>] << /FunctionType 2 /Domain [0 1] /C0 [100 0 0] /C1 [55 -50 30] /N 1 >>]`
      const curved = pdf.stream(
        '/FunctionType 4 /Domain [0 1] /Range [0 1 0 1 0 1 0 1]',
        '{ dup dup mul exch 0.5 mul 0 exch 0 }',
      )
      return {
        resources: `/ColorSpace << ${spots} /L ${lab} /V [/Separation /Varnish /DeviceCMYK ${curved}] >>`,
        content: [
          ...[0.1, 0.25, 0.5, 0.75, 1].map((tint, i) => `/W cs ${tint} scn ${box(8 + i * 33, 80, 30, 30)}`),
          ...[0.02, 0.3, 0.6, 0.9, 1].map((tint, i) => `/H cs ${tint} scn ${box(8 + i * 33, 44, 30, 30)}`),
          ...[0.2, 0.4, 0.8].map((tint, i) => `/L cs ${tint} scn ${box(8 + i * 33, 8, 30, 30)}`),
          ...[0.35, 0.7].map((tint, i) => `/V cs ${tint} scn ${box(107 + i * 33, 8, 30, 30)}`),
        ].join('\n'),
      }
    }),

  'named process inks': () =>
    onePage(() => ({
      resources: `/ColorSpace << /C ${separation('Cyan', [1, 0, 0, 0])} /K ${separation('Black', [0, 0, 0, 1])} /A ${separation('All', [1, 1, 1, 1])} /N ${separation('None', [0, 1, 0, 0])} /W ${white} >>`,
      content: [
        `/C cs 0.7 scn ${box(10, 10, 70, 45)}`,
        `/K cs 0.4 scn ${box(100, 10, 70, 45)}`,
        `/W cs 0.5 scn ${box(10, 65, 70, 45)}`,
        `/N cs 1 scn ${box(30, 30, 100, 50)}`,
        `/A cs 0.6 scn ${box(110, 70, 50, 30)}`,
      ].join('\n'),
    })),

  'device n': () =>
    onePage(pdf => ({
      resources: `/ColorSpace << ${spots} /CW ${deviceN(pdf, ['Cyan', 'White'])} /WH ${deviceN(pdf, ['White', 'Holo#20foil', 'Black'])} /SN ${deviceN(pdf, ['None', 'Comet#20orange'])} >>`,
      content: [
        `/CW cs 0.6 0.3 scn ${box(10, 10, 50, 100)}`,
        `/WH cs 0.9 0.5 0.2 scn ${box(65, 10, 50, 100)}`,
        `/SN cs 1 0.75 scn ${box(120, 10, 50, 100)}`,
        `/H cs 0.4 scn ${box(30, 40, 120, 30)}`,
      ].join('\n'),
    })),

  'knock-out': () =>
    onePage(() => ({
      resources: `/ColorSpace << ${spots} >>`,
      content: [
        `/W cs 1 scn ${box(10, 10, 160, 100)}`,
        `0.5 0.4 0.3 0 k ${box(20, 20, 60, 80)}`,
        `/H cs 0.7 scn ${box(60, 40, 60, 40)}`,
        `0 0 0 0 k ${box(130, 30, 30, 60)}`,
      ].join('\n'),
    })),

  'overprint, mode 0': () => overprinted(0),
  'overprint, mode 1': () => overprinted(1),

  'overprint of strokes alone': () =>
    onePage(() => ({
      resources: `/ColorSpace << ${spots} >> /ExtGState << /S << /OP true /op false /OPM 1 >> /B << /OP true /OPM 1 >> >>`,
      content: [
        `/W cs 1 scn ${box(10, 10, 160, 100)}`,
        // In two: painted as one, the stroke takes the place of the fill (ISO 32000-2, 11.7.4.4), which the reference
        // of the tests does not heed where but one of them overprints.
        'q /S gs /H CS 1 SCN /O cs 0.5 scn 14 w 30 30 50 60 re f 30 30 50 60 re S Q',
        `q /B gs /H CS 1 SCN /O cs 0.5 scn 14 w 105 30 50 60 re B Q`,
      ].join('\n'),
    })),

  'mixing hints': () =>
    onePage(pdf => ({
      resources: `/ColorSpace << ${spots} /N ${deviceN(
        pdf,
        ['White', 'Cyan', 'Holo#20foil'],
        `/Subtype /NChannel /Colorants << /White ${white} /Holo#20foil ${holo} >> /Process << /ColorSpace /DeviceCMYK /Components [/Cyan] >> /MixingHints << /Solidities << /White 0.85 /Holo#20foil 0.2 /Default 0 >> /PrintingOrder [/White /Cyan /Holo#20foil] >>`,
      )} >>`,
      content: [
        `/N cs 1 0.5 0 scn ${box(10, 10, 80, 100)}`,
        `/N cs 0.25 0 0.75 scn ${box(90, 10, 80, 100)}`,
        `/O cs 1 scn ${circle(90, 60, 25)} f`,
      ].join('\n'),
    })),
}

/** The same marks in both overprint modes: a zero of CMYK leaves what is below in mode 1 alone. */
function overprinted(mode: 0 | 1) {
  return onePage(pdf => ({
    resources: `/ColorSpace << ${spots} /CW ${deviceN(pdf, ['Cyan', 'White'])} >> /ExtGState << /Over << /OP true /op true /OPM ${mode} >> >>`,
    content: [
      `0.6 0.5 0 0.1 k ${box(10, 10, 160, 100)}`,
      `/W cs 0.8 scn ${box(20, 60, 140, 40)}`,
      '/Over gs',
      `/H cs 1 scn ${box(25, 20, 25, 80)}`,
      `0 0 0.7 0 k ${box(55, 20, 25, 80)}`,
      `0.9 0 0 0 k ${box(85, 20, 25, 80)}`,
      `/CW cs 0 0.3 scn ${box(115, 20, 20, 80)}`,
      `0 g ${box(140, 20, 15, 80)}`,
    ].join('\n'),
  }))
}
