/** Rest voltage of one cell by state of charge in %, invented smooth tables in the manner of each chemistry. */
export type OpenCircuitTable = [number, number][];

export function nickelRichTable(): OpenCircuitTable {
  return [
    [0, 3.0],
    [5, 3.268],
    [10, 3.394],
    [15, 3.463],
    [20, 3.509],
    [25, 3.551],
    [30, 3.589],
    [35, 3.622],
    [40, 3.654],
    [45, 3.689],
    [50, 3.728],
    [55, 3.772],
    [60, 3.819],
    [65, 3.867],
    [70, 3.915],
    [75, 3.962],
    [80, 4.007],
    [85, 4.049],
    [90, 4.089],
    [95, 4.133],
    [100, 4.2],
  ];
}

export function highPowerLayeredTable(): OpenCircuitTable {
  return [
    [0, 3.0],
    [5, 3.33],
    [10, 3.452],
    [15, 3.523],
    [20, 3.577],
    [25, 3.622],
    [30, 3.66],
    [35, 3.692],
    [40, 3.719],
    [45, 3.745],
    [50, 3.774],
    [55, 3.807],
    [60, 3.845],
    [65, 3.886],
    [70, 3.928],
    [75, 3.97],
    [80, 4.011],
    [85, 4.05],
    [90, 4.088],
    [95, 4.129],
    [100, 4.2],
  ];
}

/** Iron phosphate: flat between 30 and 95 %, so that a rest voltage says little there. */
export function ironPhosphateTable(): OpenCircuitTable {
  return [
    [0, 2.6],
    [3, 2.94],
    [6, 3.08],
    [10, 3.175],
    [15, 3.214],
    [20, 3.238],
    [30, 3.272],
    [40, 3.287],
    [50, 3.293],
    [60, 3.304],
    [65, 3.318],
    [70, 3.328],
    [80, 3.333],
    [90, 3.338],
    [95, 3.346],
    [98, 3.382],
    [100, 3.55],
  ];
}
