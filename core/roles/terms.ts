import type { RoleName } from './role.ts'

/** ISO 639-1 codes of the languages that the table speaks. */
export const languages = ['en', 'de', 'fr', 'es', 'it', 'pt', 'nl', 'pl', 'ja', 'zh'] as const
export type Language = (typeof languages)[number]

/**
 * Trade words that name a role, by language, separated by commas; how a term is written: see `findTerms`.
 * Common trade usage, from memory. The order settles names with several terms ("holo white" is a white): the first
 * role wins.
 */
const table: readonly (readonly [RoleName, Readonly<Record<Language, string>>])[] = [
  [
    'legend',
    {
      en: 'legend, legends, info panel, job info, title block, slug, =notes, annotations, dimension, dimensions, measurements, =guides, colour bar, color bar, do not print, non printing, register marks, registration marks, crop marks, bleed',
      de: 'legende, bemassung, =masse, hinweise, beschnitt, anschnitt, passermarken, nicht drucken, infofeld',
      fr: 'légende, cotation, =cotes, fond perdu, ne pas imprimer, repères, cartouche',
      es: 'leyenda, acotación, =cotas, sangrado, no imprimir, marcas de registro',
      it: 'leggenda, quotatura, =quote, abbondanza, non stampare, crocini',
      pt: 'legenda, cotagem, =cotas, sangria, não imprimir, marcas de registo, marcas de registro',
      nl: 'legenda, maatvoering, afloop, niet drukken, paskruisen',
      pl: 'legenda, wymiary, spad, spady, nie drukować, pasery',
      ja: '凡例, 寸法, 注釈, 塗り足し, トンボ',
      zh: '图例, 圖例, 标注, 標註, 尺寸, 出血, 不印',
    },
  ],
  [
    'dieline',
    {
      en: 'dieline, dielines, die line, die lines, die cut, die cutting, diecut, =die, =cutter, cutter guide, =cut, cut line, cut lines, cutting, crease, creases, creasing, =score, score line, scoring, perforation, perf, fold line, fold lines, folding, through cut, keyline, cut contour',
      de: 'stanz*, rill*, nutung, nutlinie, schneid*, falz*, perforation, schnittlinie',
      fr: 'découpe, forme de découpe, rainage, rainant, =pli, plis, tracé de coupe, perforation',
      es: 'troquel, troquelado, hendido, plegado, =corte, línea de corte, perforado',
      it: 'fustella, fustellatura, cordonatura, =piega, pieghe, =taglio, linea di taglio, tracciato',
      pt: '=faca, faca de corte, vinco, vincos, =dobra, dobras, corte e vinco, cortante',
      nl: 'stans*, rillijn, rillijnen, =ril, snijlijn, snijlijnen, vouwlijn, vouwlijnen, stansvorm',
      pl: 'wykrojnik, wykrojnika, bigowanie, bigi, sztanca, sztancowanie, cięcie, perforacja',
      ja: '抜き型, 抜型, 型抜き, 罫線, トムソン, 展開図',
      zh: '刀版, 刀模, 刀线, 刀線, 模切, 压痕, 壓痕, 折线, 折線',
    },
  ],
  [
    'glueZone',
    {
      en: 'glue, glue zone, glue area, glue flap, gluing, adhesive, glue free, varnish free, ink free, ink varnish free',
      de: 'kleb*, leim*, lackfrei*, lackaussparung, farbfrei',
      fr: '=colle, collage, zone de collage, zone de colle, patte de collage, réserve vernis, réserve de vernis, sans vernis',
      es: 'zona de cola, solapa de cola, pegado, encolado, adhesivo, sin barniz, reserva de barniz',
      it: '=colla, incollatura, incollaggio, zona colla, aletta colla, senza vernice, risparmio vernice',
      pt: '=cola, zona de cola, área de cola, aba de cola, colagem, sem verniz, reserva de verniz',
      nl: 'lijm*, plakrand, plakstrook, lakvrij, lakuitsparing',
      pl: 'klej, kleju, klejenie, klejenia, zakładka klejowa, bez lakieru, wolne od lakieru',
      ja: '糊代, 糊しろ, のりしろ, 糊付け, ニス抜き',
      zh: '粘口, 糊口, 粘位, 上胶, 上膠, 胶位, 膠位, 留空光油',
    },
  ],
  [
    'codingArea',
    {
      en: 'coding area, coding, coding marking, code area, lot code, batch code, date code, best before, =expiry, expiry date, imprint area, imprinting, overprint area',
      de: 'eindruck, eindruckfeld, codierfeld, codierung, kodierfeld, haltbarkeit, mhd, chargenfeld',
      fr: 'zone de marquage, zone de codage, dluo, ddm, numéro de lot',
      es: 'zona de codificado, codificado, caducidad, número de lote',
      it: 'zona di codifica, zona codifica, scadenza, numero di lotto',
      pt: 'área de codificação, zona de codificação, codificação, validade, número de lote',
      nl: 'codeerveld, codering, houdbaarheid, tht, lotnummer',
      pl: 'pole kodowania, kodowanie, data ważności, numer partii',
      ja: '印字, 印字枠, 賞味期限, 使用期限, ロット',
      zh: '喷码, 噴碼, 打码, 打碼, 保质期, 保質期, 批号, 批號',
    },
  ],
  [
    'emboss',
    {
      en: 'emboss, embossing, embossed, deboss, debossing, debossed, braille, blind emboss',
      de: 'präg*, blindpräg*, reliefpräg*, tiefpräg*, hochpräg*, brailleschrift',
      fr: 'gaufrage, embossage, débossage, timbrage',
      es: 'gofrado, golpe seco, estampado en relieve, =relieve',
      it: 'goffratura, sbalzo, rilievo a secco, =rilievo',
      pt: 'relevo seco, alto relevo, baixo relevo, =relevo',
      nl: 'preeg, preging, blindpreeg, reliëf, reliëfdruk',
      pl: 'tłoczenie, tłoczenia, wytłaczanie',
      ja: 'エンボス, 浮き出し, 浮出し, 点字',
      zh: '击凸, 擊凸, 压凸, 壓凸, 起凸, 盲文, 凹凸',
    },
  ],
  [
    'foilStamp',
    {
      en: 'foil stamp, foil stamping, foil blocking, hot foil, hot stamp, hot stamping, cold foil, cold foil stamping',
      de: 'heissfolie, heissfolienpräg*, kaltfolie, folienpräg*, heissprägung',
      fr: 'dorure, dorure à chaud, dorure à froid, marquage à chaud',
      es: 'estampación, estampación en caliente, estampado en caliente, estampado en frío',
      it: 'stampa a caldo, lamina a caldo, lamina a freddo, oro a caldo',
      pt: 'estampagem a quente, estampagem a frio, hot stamping',
      nl: 'foliedruk, warmfolie, koudfolie, foliepreeg',
      pl: 'hotstamping, złocenie, folia na zimno, folia na gorąco',
      ja: '箔押し, 箔押, ホットスタンプ, コールドフォイル',
      zh: '烫金, 燙金, 烫银, 燙銀, 烫印, 燙印, 冷烫, 冷燙',
    },
  ],
  [
    'varnish',
    {
      en: 'varnish, varnishes, spot varnish, spot uv, uv varnish, uv coating, uv spot, gloss varnish, matt varnish, matte varnish, lacquer, overprint varnish, =coating',
      de: '=lack, lacke, spotlack, glanzlack, mattlack, uvlack, schutzlack, drucklack, relieflack, effektlack, lackierung, lackform',
      fr: 'vernis, vernis sélectif, vernissage, vernis uv',
      es: 'barniz, barnizado, barniz uv, barniz selectivo',
      it: 'vernice, verniciatura, vernice uv, vernice selettiva, lucido uv',
      pt: 'verniz, verniz uv, verniz localizado, envernizamento',
      nl: '=lak, vernis, spotlak, uv lak, laklaag, lakvorm',
      pl: 'lakier, lakieru, lakierowanie, lakier uv, lakier wybiórczy',
      ja: 'ニス, ワニス, ニス引き',
      zh: '上光, 光油, 过油, 過油, 局部uv, 逆向光油',
    },
  ],
  [
    'primer',
    {
      en: 'primer, priming, undercoat',
      de: 'grundierung, haftvermittler, primer',
      fr: "primaire, couche d'accroche, sous couche d'accroche",
      es: 'imprimación',
      it: 'primer, fondo di ancoraggio',
      pt: 'primário',
      nl: 'grondlaag, hechtlaag',
      pl: 'podkład, primer',
      ja: 'プライマー, 下塗り',
      zh: '底油, 底涂, 底塗',
    },
  ],
  [
    'white',
    {
      en: 'white, whites, opaque white, white plate, white ink, white base, underbase, white underprint, half white, full white, flood white',
      de: 'weiss, weiss*, *weiss, deckweiss, unterdruckweiss',
      fr: 'blanc, blanche, blanc opaque, blanc de soutien, blanc couvrant, sous couche blanche',
      es: 'blanco, blanca, blanco opaco, base blanca, blanco cubriente',
      it: 'bianco, bianco coprente, fondo bianco, bianco di fondo',
      pt: 'branco, branco opaco, base branca, calço branco',
      nl: 'wit, dekwit, wit onderdruk, witlaag, witvorm',
      pl: 'biel, biały, biała, biały poddruk, poddruk, podbiel, biel kryjąca',
      ja: '白, ホワイト, 白版, 白押さえ, 白引き, 白打ち',
      zh: '白色, 白墨, 专白, 專白, 白版, 铺白, 鋪白',
    },
  ],
  [
    'holography',
    {
      en: 'holo, holos, hologr*, =grating, gratings, diffractive, diffraction, rainbow, micro emboss, micro embossing, microemboss*, lens effect, sunburst',
      de: 'hologramm, beugung*, beugungsgitter, regenbogen*, mikropräg*, =gitter',
      fr: 'hologramme, diffraction, réseau de diffraction, arc en ciel',
      es: 'difracción, red de difracción, arcoíris, arco iris',
      it: '=olo, ologr*, olograf*, diffrazione, reticolo di diffrazione, arcobaleno',
      pt: 'difração, rede de difração, arco íris, holograma',
      nl: 'regenboog, regenboog*, diffractie, diffractief',
      pl: 'dyfrak*, siatka dyfrakcyjna, hologram, tęcza',
      ja: 'ホロ, ホログラム, 回折, 回折格子, 虹, レインボー',
      zh: '全息, 镭射, 鐳射, 雷射, 激光, 光栅, 光柵, 彩虹, 衍射',
    },
  ],
  [
    'substrate',
    {
      en: 'substrate, foil, =metal, metallised, metallized, metallised board, metallic board, silver board, =board, =film',
      de: 'substrat, trägermaterial, bedruckstoff, folie, metallisiert, =karton',
      fr: '=support, support métallisé, métallisé, film métallisé',
      es: '=soporte, sustrato, metalizado, lámina metalizada',
      it: '=supporto, substrato, metallizzato',
      pt: '=suporte, substrato, metalizado, metalizada',
      nl: 'substraat, drager, =ondergrond, gemetalliseerd',
      pl: 'podłoże, folia, metalizowany, metalizowana',
      ja: '基材, 原反, 蒸着, 蒸着紙',
      zh: '基材, 承印物, 铝箔, 鋁箔, 底材, 镀铝, 鍍鋁',
    },
  ],
  [
    'spotInk',
    {
      en: 'spot ink, spot colour, spot color, special colour, special color, brand colour, brand color',
      de: 'sonderfarbe, sonderfarben, schmuckfarbe, hausfarbe',
      fr: 'ton direct, tons directs, couleur spéciale, couleur d’accompagnement',
      es: 'tinta plana, tinta directa, tinta especial, color especial',
      it: 'colore speciale, tinta piatta, tinta speciale',
      pt: 'cor especial, cor direta, cor directa',
      nl: 'steunkleur, steunkleuren, pms kleur',
      pl: 'kolor dodatkowy, kolor specjalny, kolor spotowy',
      ja: '特色, 特練',
      zh: '专色, 專色',
    },
  ],
  [
    'overprint',
    {
      en: 'overprint, cmyk, =process, process colour, process color, process colours, four colour, =artwork, =print, =design',
      de: 'überdruck, =druck, druckbild, skala, skalenfarben, vierfarbdruck, motiv',
      fr: 'quadri, quadrichromie, surimpression, =impression',
      es: 'cuatricromía, sobreimpresión, impresión cmyk, =impresión',
      it: 'quadricromia, sovrastampa, =stampa',
      pt: 'quadricromia, sobreimpressão, =impressão',
      nl: 'overdruk, drukwerk, vierkleuren, =druk',
      pl: 'nadruk, =druk, druk cmyk',
      ja: 'プロセス, 四色, 絵柄, 印刷',
      zh: '四色, 印刷, 彩印',
    },
  ],
  [
    'ignore',
    {
      en: '=ignore, =hidden, =reference, =sketch, =template, mockup, mock up, not used',
      de: 'ignorieren, =entwurf, nicht verwenden',
      fr: 'ignorer, =brouillon, ne pas utiliser',
      es: 'ignorar, =boceto, no usar',
      it: 'ignorare, =bozza, non usare',
      pt: 'ignorar, =rascunho, não usar',
      nl: 'negeren, =schets, niet gebruiken',
      pl: 'pomiń, =szkic, nie używać',
      ja: '下書き, 参考, 不使用',
      zh: '忽略, 草稿, 不用',
    },
  ],
]

const split = (terms: string): readonly string[] => terms.split(',').map(term => term.trim())

/** The terms of each role, all languages together, in the order in which roles win. */
export const roleTerms: readonly (readonly [RoleName, readonly string[]])[] = table.map(([role, terms]) => [
  role,
  languages.flatMap(language => split(terms[language])),
])

/** The terms of one role in one language. */
export function termsOf(role: RoleName, language: Language): readonly string[] {
  const row = table.find(([name]) => name === role)
  return row ? split(row[1][language]) : []
}

/**
 * Words that are as often a motif as a plate ("white star" inside the artwork): a group's role outweighs them.
 */
export const motifTerms: ReadonlySet<string> = new Set(
  split(
    `white, whites, weiss, weiss*, *weiss, blanc, blanche, blanco, blanca, bianco, branco, wit, biel, biały, biała, 白,
    ホワイト, 白色, rainbow, regenbogen*, arc en ciel, arcoíris, arco iris, arcobaleno, arco íris, regenboog, regenboog*,
    tęcza, 虹, レインボー, 彩虹, 激光, sunburst, grating, gitter, foil, folie, folia, metal, film, board, relieve, relevo,
    rilievo, bleed, artwork, coding, motiv`,
  ),
)
