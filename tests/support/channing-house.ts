import type { Life } from "./lives";

/** Age at entry and at leaving or death in months; a plus sign marks "left alive or still there". */
const men = `
  782-909 1020-1128 856-969 915-957 863-983 906-1012 955-1055 943-1025 943-1043 837-945 966-1009
  936-971 919-1033 852-869 1073-1139 925-1036 967-1085 806-943+ 969-1001+ 923-1060+ 865-1002+
  953-1031+ 871-945+ 982-1006+ 883-959+ 817-843+ 875-1012+ 821-956+ 936-1073+ 971-1107+ 830-940+
  885-911+ 894-1031+ 893-996+ 866-895+ 878-1015+ 820-957+ 1007-1043+ 879-1016+ 956-1093+ 854-989
  890-1027+ 1041-1044+ 978-1005+ 836-973+ 938-1064+ 886-1023+ 876-1013+ 955-977+ 823-960+ 960-1047+
  843-943+ 856-951+ 847-984+ 1027-1058+ 988-1045+ 978-1018+ 981-1118+ 926-970+ 1036-1070+ 1016-1153+
  969-1106+ 900-936+ 898-906+ 846-866+ 964-1029 984-1053 1046-1080 871-872 847-893 962-966+ 853-894
  967-985 1063-1094 856-927 865-948 1051-1059 1010-1012 878-911 1021-1094 959-972+ 921-993 836-876
  919-993 751-777 906-966 835-907 946-1031 759-781 909-914+ 962-998 984-1022 891-932 835-898 1039-1060
  1010-1044
`;

/**
 * Men of the Channing House retirement centre, all first seen late: those with a usable stay.
 * Source: Hyde, in Biostatistics Casebook (1980); Klein & Moeschberger, Survival Analysis (2003), section 1.16; R package
 * boot, `channing`.
 */
export function channingHouseMen(): Life[] {
  return men
    .trim()
    .split(/\s+/)
    .map((stay): Life => {
      const [entry = "", exit = ""] = stay.split("-");
      return [Number(entry), Number.parseInt(exit, 10), exit.endsWith("+") ? 0 : 1];
    });
}
