#include "site/words.hpp"

#include <utility>

namespace zoneproof::site {

namespace {

/// The name the compiler prints for an enumerator; something starting with "(" where E has no enumerator of that value.
template <auto Value>
constexpr std::string_view compiler_name() {
  std::string_view signature =
      __PRETTY_FUNCTION__;  // "... [with auto Value = a::E::name; ...]" or "[Value = a::E::name]"
  signature.remove_prefix(signature.find("Value = ") + 8);
  signature = signature.substr(0, signature.find_first_of(";]"));
  const std::size_t colon = signature.rfind(':');
  if (signature.front() == '(') return signature;
  return colon == std::string_view::npos ? signature : signature.substr(colon + 1);
}

template <class E, std::size_t... I>
constexpr bool spelled_as_named(std::index_sequence<I...>) {
  return ((Words<E>::all[I] == compiler_name<static_cast<E>(I)>()) && ...);
}

/// Every word is its enumerator's name, and no enumerator follows the last word.
template <class E>
constexpr bool complete() {
  constexpr std::size_t count = Words<E>::all.size();
  return spelled_as_named<E>(std::make_index_sequence<count>{}) &&
         compiler_name<static_cast<E>(count)>().front() == '(';
}

static_assert(complete<Origin>());
static_assert(complete<Surface>());
static_assert(complete<OpeningKind>());
static_assert(complete<OpeningState>());
static_assert(complete<BlockKind>());
static_assert(complete<Fill>());
static_assert(complete<PictureTurn>());
static_assert(complete<PatternShape>());
static_assert(complete<Projection>());
static_assert(complete<PartKind>());
static_assert(complete<Material>());
static_assert(complete<Protection>());
static_assert(complete<TerminalReference>());
static_assert(complete<TerminalDrive>());
static_assert(complete<TerminalWave>());
static_assert(complete<TerminalSource>());
static_assert(complete<Reading>());
static_assert(complete<ReadingWay>());
static_assert(complete<ReadingSupply>());
static_assert(complete<ChannelBinding>());
static_assert(complete<Judging>());
static_assert(complete<ContactKind>());
static_assert(complete<RestPosition>());
static_assert(complete<WithoutSupply>());
static_assert(complete<ContactReports>());
static_assert(complete<Technology>());
static_assert(complete<OutputKind>());
static_assert(complete<TriggerClass>());
static_assert(complete<KnownState>());
static_assert(complete<OutputUse>());
static_assert(complete<ZoneType>());
static_assert(complete<Medium>());
static_assert(complete<Arrangement>());
static_assert(complete<EolPlace>());
static_assert(complete<ContactRole>());
static_assert(complete<FollowedEvent>());
static_assert(complete<ActiveWhen>());
static_assert(complete<OutputMode>());
static_assert(complete<PartitionRule>());
static_assert(complete<ArmingMoment>());
static_assert(complete<Level>());
static_assert(complete<MissedBy>());
static_assert(complete<TriggerSource>());
static_assert(complete<BondKind>());
static_assert(complete<Transport>());
static_assert(complete<AddressBy>());
static_assert(complete<ReachedFrom>());
static_assert(complete<PathCategory>());
static_assert(complete<Codec>());
static_assert(complete<RateControl>());
static_assert(complete<ClipSending>());
static_assert(complete<ClockSource>());

}  // namespace

}  // namespace zoneproof::site
