//! The example families that come with the page: those of demo-curves, as share codes, for what reads files is in the
//! worker's module and may come later.

/// One example.
pub struct Example {
    /// What the list calls it.
    pub name: &'static str,
    /// The share code of its family.
    pub code: &'static str,
    /// The share code of its series; empty for none.
    pub series: &'static str,
}

/// Of rims-that-agree.json.
const RIMS: &str = "loft1.jT8FeKgwINLTt5oN-ZB00ZUGzDu6ZeW5Bw2YdyEod_XdkQctO2QKx9MCpROIuAA4jBMpDiMgAGQADFvMlJkomLdMW6yUWSlCGf2w7EHLTtlCoERoCIBNVejoAaNNVgQAQ1WaNgBo5bAALa1_w6RNu3pE_8MAB_xaRVu5pFQlp8euHllQctO2QqqAAA2sMAA2sEAA2sMAA2sMBAANrDgAG1gAANrBwnkZfGHPv3IOWnbffyOPAORyIABtmOPOgAG6t_WX6xoAe6u_WULaPXD05Zc2_TsQctO2YLBFuCTx331uvpcAD6ZW534OeTfhW5-mQAPpdbpZAAdOn0ut1vvc8e--t19LgAfTK3O_Bzyb8K3MI6GXph2IOWnbEBYJAg922P-BGaf3bNogATZ_d2ajgPZAW7lkDgPmo93TZ4AE2j3bmn4EKoACJUXDq8rSndtpaR5Glp3btKryXDwAXEK8bTHdxpcR42lx3ctMrxj8XPnQctO2SLBEKCaHbOeetTSMHRTQMHRTSZ61kAArhizXITu3C9LcADS43DCE8R-Fh8oOWnbJQFl5YLXDWZguS3ZKvuT5UpmZQeikuABhbsjWhDEQanK_CnvqrJ0MA";

/// All examples, in the order of the list.
pub const EXAMPLES: [Example; 8] = [
    Example {
        name: "Hoods that agree",
        code: "loft1.2NM9n3pgI8jfvyc0G_Mg6aMqDvl59EHDlv25d2HJlQhHR64fKDFl2bBArRYPCEvDK_XfwhO4yvVA0LAtfrz2r_H8sNYFhEI5u_ZlQY9-7KaVL0D6xZCY_H5nH9YPqDfdvSvhLKy9OnlBk37cp6TY6kDvCj5hO1hyCsLog13WD1H_8-MeACEcLrv8oN-fLlESyyBcI6kfoMr_5_K_rwn0Kw5eAlr4yPCNd_z4yNeFUiU-XDj37kHPpl4cz76XlgRrDJfru9TujFLEsg_3FDXdIoav3FA2F4SxsvLl5QdMu7oeVMmH3CwhFh-heg-3VA2tgXF8yP0cg5AUaIUw8PDn0w7kGTl12nySv9AyMMr2S9n3yvd4FYVBRlfSu-3tX-vDWBCuns08O-Hyg569PLofCSssPt3d7JeZAg6CKRLI1jj9uHQl_CE7jK8A",
        series: "",
    },
    Example {
        name: "Hoods with a fault of each kind",
        code: "loft1.zRv8UCYgLtPfj15eiDRv35OaDvp6aEGFBmw9dnRBvzIMuHHoQa9O7IhCOj1w-UGLLs2CBYVMCGRyA6kdR8S9XjdwsENgL0Cx-tr1tflfmP5YIRzd-zKgx792UQSuPwAmRMf9DJjkDJeSQgchx5a-o_yDWCj8JZWXp08oMm_blEElrCx-Qd4J0F5zCc5_lpd9j-WC9Al4ZX_n8fwznZeiDNs34eixB05YceXI79QBEMIBAORUC7AkggB0AIT5TfQIXgAvwFMCsfTBO4mPjHvAhQVb4AJj3296Aab1SARn8vEHeCCDQ05eSDFl2bFiDNy37UHTRlQYuWnaIFgrdBFf4mKvGJfqP1I5AK0WAtgP0LH_zyKPKM_j-FM3fv5ad2dBuy49YmWF4ggAeENeHH9hnvU8gOD7g_QWQFgk0B8MZX3LO_p-QDfYQl9j9CX-EITxMuXgg578evL0ESwuSEACGR-g8IeD8S8MeyAsNOw-4L5-u9YPra_XfJYf08JYO7Ho38kGzTwEUzK_DI5AbuPa_H-SviY3cTFax-f8HsM9kv8f4yHUgyMAA",
        series: "",
    },
    Example {
        name: "Closed rims that agree",
        code: RIMS,
        series: "",
    },
    Example {
        name: "One hood from curves to files",
        code: RIMS,
        // Of hoods-from-rims.series.json.
        series: "series1.amUpTrg4EUGjydBTo9ZfxGQHJcA",
    },
    Example {
        name: "Closed rims, a seam turned and a direction wrong",
        code: "loft1.3OEp-KmwNdLTt5oO-npoQYUHTry3ZciDnlw7UGHdkQYUHflv3Z0GTTyy4-mnfu2UO_ruyIOWnbIFY-mBUonEXAAcRgmUhxGQADIABi3mSkyUTFumLdZKLJShDP7YdiDlp2yhUCI0BEAmqvR0ANGmqwIAIarNGwA0ctgAFta_4dIm3b0if-GAA_4tIq3c0ioe0MvTDsQctO1Yg55cO1Bhx8t_PnEBYbANKW2QFu5ZA4D5qPd02eABNo925p-BFj9bt2P-BGaf3bNogATZ_dyockBrLXDwAXEK8bTHdxpcR42lx3ctMrxXEQAXDq8rSndtpaR5Glp3bgkxc-dBy07ViDJyw99yDpoyoN_TRl5IO-HzJFgiFBNDtnPPWppGDopoGDoppM9ayAAVwtZsEJ4bhmlyABpbbhZCd4TyMvjDn37kHLTtvv1h8mIAB8l4AB8mD5MQAB0AA_WX6y_WK9Y_1j-sg",
        series: "",
    },
    Example {
        name: "Closed rims that agree by pairs, and fail three at once",
        code: "loft1.zNjJleuCCowl0tO3mg76emhBzy4dvNBhQdNGnlkQct_XdkySLv67siDlp2rEHPLh2oMPRB00ZUHHrh8yhYfWD1OpX_U8AD1QpYFqgpYPVEAD1OtgAFawup-V_1P5X7qeAAuqOWD1Q5YIJM_th2IOWnasQc8uHagwoOmjTyyIOW_ruyShYRzV_fq0xs9LIbS5A-yyq0ts8rIXS2tIOaRbvX5g3dRDqI4TumrX6g3tQ_qHgu09-bog58euHllQctO1Yg55cO1B0770HTRp5ZOaDlv67skoVn0CIEJF6ucv1JX2vTa23F8udP1RX3KxqU2OEr7npxbci9XOX6kr7Xptbbi-ki7cOzYg5adqxBzy4dqDD0QdNGVBx64fMoVBOOG-JU3b4wAb5FTgvyFThvlABvirgALRxHxZN2-Nk3R8YAEfJk4b5GTgA",
        series: "",
    },
    Example {
        name: "A ring that reaches its axis",
        code: "loft1.vIRP7z4EJszDu6ZeW5Bn64eWTmgw8t_XdkQdNGVBw38-nQlj9cPLIg5YdOw0MfcCkAywZX1UepgAIUA6A485_hHX05MqDlh07DUtFg5AsgyvyvkwApBx_IKQQjp7NO1Byw6dhpYvQPCF8_Xfx_kqQce1eo-1fCGZv7oOWHTsNSToAnQ5Dj2r5fICXfx_-fx_Cmvh08-mXIg5YdOw1L_Q_PK-8o0P0JmV-yByA5AZYITxtO7Th2IOWHTsNS1H_kB9wPq9kvjwAphACl5z4",
        series: "",
    },
    Example {
        name: "Wind vanes: real wing sections",
        code: "loft1.mXu2vVJwPdfTuyIO2Hdl5oN-ZB00ZUHDlv25d2HJlWIJ0GHBQZt_Xktyac-nog55cfTTv3c0YX1sO7KsQToMOCgYMGDYKSoF_AXN8L1Xf-icA1flnACWlYMBaK4B1bw3nPDdW4BorAVYJaQAlnV_AOid_9V8Kl-QF5SRuJq_VFldX15a1tNgTlxsen52ZlL6yXdFUV1abkKUD_____pt3BOIz1ilUdaLVK_ZrDWqXQcBCJhbMRnMBVIzZSk4fKLTatWLIKUD_____xp1Dcik4plQpkt8sUf6tabzIOQd5tNW_6Nj4llMqFMnEVuoLTahSgf____-NQobkQmlQqlIlPlqn_VrTeJByDvFpq3_TtfEopFUqE0iN1BabgKUD_____xp1LciE4plUpEt8sUf6tabxISQl4tNW_6Nj4llIqlMnERupK1ZMQpQP_____HkI6wyNzm6uTUvJqRwetFUxUdR0xRXrwZGavNTk6ubcyLCOWm0ClA_____8adS3IhNKhVKRLfLFH-r2i8yDkHebRV_-jY-JZSKpUJpEbqSeWTRiyClFkmowwogpz7YVlFj-Wm5uXPJUNZYe86YKrMLJE3xQPBrKjpA6qlrkXKSS8gq99w046Ho8HEwkoguVCXXz7_P9PLRoxahSh9zTjy1LkpeNYvntmgvD0PQvG2nYwjWXkqsLPONcmRTOKQRptIaOm3KSMxpzzNk7Y9P49ioFCJQ_lxquWJeXbpz5cYA",
        series: "",
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::Board;
    use loftkin_exchange::{family_json, series, share};

    /// The files of demo-curves, in the order of the examples.
    const FILES: [&str; 8] = [
        include_str!("../../../demo-curves/hoods-that-agree.json"),
        include_str!("../../../demo-curves/hoods-with-faults.json"),
        include_str!("../../../demo-curves/rims-that-agree.json"),
        include_str!("../../../demo-curves/rims-that-agree.json"),
        include_str!("../../../demo-curves/rims-with-turned-seams.json"),
        include_str!("../../../demo-curves/rims-by-thirds.json"),
        include_str!("../../../demo-curves/ring-through-the-axis.json"),
        include_str!("../../../demo-curves/wind-vanes.json"),
    ];

    #[test]
    fn every_example_is_that_of_its_file_and_opens_without_a_note() {
        for (example, file) in EXAMPLES.iter().zip(FILES) {
            let import = family_json::read(file).unwrap();
            assert!(import.notes.is_empty(), "{}", example.name);
            assert_eq!(
                example.code,
                share::encode(&import.family),
                "{}",
                example.name
            );
            assert_eq!(share::decode(example.code).unwrap(), import.family);
            let board = Board::new(import.family).unwrap();
            assert!(1 < board.family().profiles.len(), "{}", example.name);
        }
    }

    #[test]
    fn the_series_is_that_of_its_file() {
        let file = include_str!("../../../demo-curves/hoods-from-rims.series.json");
        let code = share::encode_series(&series::read(file).unwrap());
        let codes: Vec<_> = EXAMPLES.iter().map(|example| example.series).collect();
        assert_eq!(codes.iter().filter(|series| !series.is_empty()).count(), 1);
        assert!(codes.contains(&code.as_str()), "{code}");
    }
}
