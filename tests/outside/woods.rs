//! The ratings of woods against what trials found.
//! Never a yield: trials give orders, not promises.
//! Invariant: no published order is turned round in the table.

use shadeyard_backend::woods::rules::{Rating, woods};

fn shiitake(id: &str) -> Option<Rating> {
    woods().iter().find(|w| w.id == id).and_then(|w| w.shiitake)
}

fn hericium(id: &str) -> Option<Rating> {
    woods().iter().find(|w| w.id == id).and_then(|w| w.hericium)
}

fn surely_better(a: Option<Rating>, b: Option<Rating>) -> bool {
    a.zip(b).is_some_and(|(a, b)| a.low > b.high)
}

/// Source: Bruhn, Mihail & Pickens 2009, Bioresource Technology 100:6472: sugar maple gave more than
/// white and northern red oak. Five steps can't part them; the table must not put them the other way.
#[test]
fn no_oak_is_rated_above_sugar_maple() {
    for oak in ["white-oak", "red-oak", "chestnut-oak"] {
        assert!(shiitake(oak).is_some() && !surely_better(shiitake(oak), shiitake("sugar-maple")), "{oak}");
    }
}

/// Source: HortTechnology 6(4), 1996: white and red oak gave more than black cherry, sassafras, sycamore.
#[test]
fn oaks_are_rated_above_cherry_sassafras_and_sycamore() {
    for oak in ["white-oak", "red-oak"] {
        for poor in ["black-cherry", "sassafras", "sycamore"] {
            assert!(surely_better(shiitake(oak), shiitake(poor)), "{oak} {poor}");
        }
    }
}

/// Source: Frey et al. 2020, HortTechnology 30:741: sweetgum and white oak alike, then red maple, then
/// ailanthus.
#[test]
fn sweetgum_stands_with_white_oak_above_red_maple_above_ailanthus() {
    assert_eq!(shiitake("sweetgum"), shiitake("white-oak"));
    assert!(surely_better(shiitake("sweetgum"), shiitake("red-maple")));
    assert!(surely_better(shiitake("red-maple"), shiitake("ailanthus")));
}

/// Source: common practice: oak, sugar maple, sweetgum and hornbeam are the best for shiitake; beech,
/// mulberry and sugar maple for Hericium.
#[test]
fn the_best_woods_are_the_ones_growers_name() {
    for id in ["white-oak", "red-oak", "sugar-maple", "sweetgum", "hornbeam"] {
        assert_eq!(shiitake(id).map(|r| r.low), Some(4), "{id}");
    }
    for id in ["beech", "mulberry", "sugar-maple"] {
        assert_eq!(hericium(id).map(|r| r.low), Some(4), "{id}");
    }
}

/// Source: common practice: neither mushroom lives on softwood, nor on black locust.
#[test]
fn conifers_and_black_locust_are_unsuitable() {
    let nothing = Some(Rating { low: 0, high: 0 });
    let conifers: Vec<_> = woods().iter().filter(|w| w.conifer).collect();
    assert_eq!(conifers.len(), 8);
    for wood in conifers.into_iter().chain(woods().iter().filter(|w| w.id == "black-locust")) {
        assert_eq!((wood.shiitake, wood.hericium), (nothing, nothing), "{}", wood.id);
    }
}

/// Source: common practice and the trials named in the table: the whole list of woods, shiitake / Hericium, as
/// it was drawn up; a dash where nobody says, a range where sources conflict.
#[test]
fn every_wood_of_the_list_has_its_ratings() {
    let text = |rating: Option<Rating>| match rating {
        None => "-".to_owned(),
        Some(r) if r.low == r.high => r.low.to_string(),
        Some(r) => format!("{}..{}", r.low, r.high),
    };
    let list = "white-oak 4/3 red-oak 4/3 chestnut-oak 4/3 sugar-maple 4/4 sweetgum 4/2 hophornbeam 4/2 hornbeam 4/2
        beech 2..4/4 yellow-birch 3/3 sweet-birch 3/3 gray-birch 3/3 paper-birch 2/3 red-maple 2/3 silver-maple 2/3
        red-alder 3/2 black-cherry 1/2 bitternut-hickory 3/2 chestnut 4/2 tanoak 4/3 quaking-aspen 1/2
        bigtooth-aspen 1/2 cottonwood 1/2 yellow-poplar 1/2 black-walnut 1/2 mulberry -/4 sycamore 1/1 sassafras 1/1
        elm 1/1 basswood 1/1 white-ash 1/1 green-ash 1/1 willow 1/1 black-locust 0/0 ailanthus 0/-";
    let mut of_list = 0;
    for (id, ratings) in list.split_whitespace().collect::<Vec<_>>().chunks(2).map(|pair| (pair[0], pair[1]))
    {
        let found = format!("{}/{}", text(shiitake(id)), text(hericium(id)));
        assert_eq!(found, ratings, "{id}");
        of_list += 1;
    }
    assert_eq!(
        of_list + woods().iter().filter(|w| w.conifer).count(),
        woods().len(),
        "no wood beside the list"
    );
}
