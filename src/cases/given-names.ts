/**
 * Frequent given names of several languages, for telling a column of persons from a column of codes. Names that are also
 * ordinary words or places are left out. Common knowledge, no source; three of them in a column are asked for, not one.
 */
const GIVEN_NAMES = new Set(
  (
    "adam ahmed aisha alan albert alexander alfred ali alice amanda amelia amy ana anders andrea andreas andrew angela anita " +
    "ann anna anne annika anthony antonio arthur astrid barbara ben bernard bernd bianca birgit bjorn brian brigitte camille " +
    "carl carla carlos carmen caroline catherine charles charlotte chloe christian christina christine claire claudia colin " +
    "daniel david deborah diana diane dieter donald dorothy edward elena elisabeth elizabeth ellen emily emma eric erik ernst " +
    "eva fatima felix fernando fiona florian francesca francesco francis francisco frank franz frederick gabriele gareth " +
    "george gerald gerhard giovanni giulia giuseppe gordon graham greta guido gunnar hannah hans harald harold hassan heinz " +
    "helen helena helga henrik henry herbert hermann hugo ian ibrahim ingrid irene isabel isabella ivan jack jacob jacques " +
    "james jan jane janet jason javier jean jennifer jessica joan johan johann johannes john jonas jonathan jorge jose josef " +
    "joseph juan judith juergen julia julian julie jurgen karen karin karl katarina katharina kathleen katja keith kenneth " +
    "kevin klaus kristina lars laura lena leonard liam linda lisa lucas lucia lucy luigi luis lukas magnus manfred manuel " +
    "marco margaret maria marianne marie marina mario marion markus marta martha martin martina mary mateo mathias matthew " +
    "maurice melissa michael michel miguel mohamed mohammed monica monika muhammad nancy natalie nathan nicholas nicole niels " +
    "nina norbert oliver olivia olaf omar oscar otto pablo pamela patricia patrick paul paula pauline pedro peter petra " +
    "philip philippe pierre rachel rainer ralf raymond rebecca renate ricardo richard robert roberto roger roland rolf ronald " +
    "rosa rudolf ruth samuel sandra sara sarah sebastian sharon silke silvia simon sofia sonja sophia sophie stefan stefanie " +
    "stephan stephen steven stuart susan susanne sven sylvia tanja teresa theodor theresa thomas timothy tobias ulrich ulrike " +
    "ursula uwe valentina vera veronica victor victoria vincent walter werner wilhelm william wolfgang yasmin yusuf yvonne"
  ).split(" "),
);

export function isGivenName(word: string): boolean {
  return GIVEN_NAMES.has(word.toLowerCase());
}
